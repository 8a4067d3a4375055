package daylight.report;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDResources;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDMarkedContentReference;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureNode;
import org.apache.pdfbox.pdmodel.documentinterchange.markedcontent.PDMarkedContent;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.text.PDFMarkedContentExtractor;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;

/** A PDF read back by its tags, as a screen reader would: what each table cell says, what each picture is said to be. */
final class TaggedPdf {
    final int pages;
    final String title;
    final String text;
    final List<String> fonts = new ArrayList<>();
    final List<String> fontsNotEmbedded = new ArrayList<>();
    final List<List<String>> rows = new ArrayList<>();
    final List<String> pictures = new ArrayList<>();
    final List<String> headings = new ArrayList<>();
    final boolean tagged;

    TaggedPdf(byte[] bytes) throws IOException {
        try (PDDocument document = Loader.loadPDF(bytes)) {
            pages = document.getNumberOfPages();
            title = document.getDocumentInformation().getTitle();
            text = new PDFTextStripper().getText(document);
            tagged = document.getDocumentCatalog().getMarkInfo() != null
                    && document.getDocumentCatalog().getMarkInfo().isMarked();
            Map<Object, Map<Integer, String>> byObject = new HashMap<>();
            for (PDPage page : document.getPages()) {
                fonts(page.getResources());
                PDFMarkedContentExtractor extractor = new PDFMarkedContentExtractor();
                extractor.setSuppressDuplicateOverlappingText(false);
                extractor.processPage(page);
                Map<Integer, String> words = new HashMap<>();
                for (PDMarkedContent content : extractor.getMarkedContents()) {
                    StringBuilder word = new StringBuilder();
                    for (Object part : content.getContents()) {
                        if (part instanceof TextPosition position) {
                            word.append(position.getUnicode());
                        }
                    }
                    words.merge(content.getMCID(), word.toString(), String::concat);
                }
                byObject.put(page.getCOSObject(), words);
            }
            walk(document.getDocumentCatalog().getStructureTreeRoot(), byObject);
        }
    }

    private void fonts(PDResources resources) throws IOException {
        for (COSName name : resources.getFontNames()) {
            PDFont font = resources.getFont(name);
            fonts.add(font.getName());
            if (!font.isEmbedded()) {
                fontsNotEmbedded.add(font.getName());
            }
        }
    }

    private void walk(PDStructureNode node, Map<Object, Map<Integer, String>> said) {
        for (Object kid : node.getKids()) {
            if (kid instanceof PDStructureElement element) {
                String type = element.getStructureType();
                if (type.equals("TR")) {
                    List<String> cells = new ArrayList<>();
                    for (Object cell : element.getKids()) {
                        cells.add(words((PDStructureElement) cell, said)
                                .replaceAll("[\\s\\u00a0]+", " ")
                                .strip());
                    }
                    rows.add(cells);
                }
                if (type.equals("Figure")) {
                    pictures.add(element.getAlternateDescription());
                }
                if (type.matches("H[1-6]")) {
                    headings.add(words(element, said).strip());
                }
                walk(element, said);
            }
        }
    }

    private static String words(PDStructureElement element, Map<Object, Map<Integer, String>> said) {
        StringBuilder words = new StringBuilder();
        Object page = element.getPage() == null ? null : element.getPage().getCOSObject();
        for (Object kid : element.getKids()) {
            if (kid instanceof PDStructureElement inner) {
                words.append(inner.getStructureType().equals("Figure") ? "" : words(inner, said))
                        .append(' ');
            } else if (kid instanceof Integer mcid) {
                words.append(said.getOrDefault(page, Map.of()).getOrDefault(mcid, ""))
                        .append(' ');
            } else if (kid instanceof PDMarkedContentReference reference) {
                words.append(said.getOrDefault(reference.getPage().getCOSObject(), Map.of())
                                .getOrDefault(reference.getMCID(), ""))
                        .append(' ');
            }
        }
        return words.toString();
    }
}
