package daylight.report;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PDFontSupplier;
import com.openhtmltopdf.pdfboxout.PdfBoxRenderer;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.util.XRLog;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.logging.Level;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.apache.fontbox.ttf.TTFParser;
import org.apache.fontbox.ttf.TrueTypeFont;
import org.apache.pdfbox.io.RandomAccessReadBuffer;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDDocumentInformation;
import org.apache.pdfbox.pdmodel.common.PDMetadata;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.font.PDType0Font;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;

/**
 * Lays a page of {@link ReportPages} out as a PDF file: tagged for screen readers (PDF/UA-1), fonts embedded, pictures as
 * lines. The same page gives the same bytes: the file carries no time, and its identity comes from its content.
 */
final class PdfPages {
    private static final String FONTS = "/liberation/";
    private static final String FAMILY = "Liberation Sans";
    private static final int REGULAR = 400;
    private static final int BOLD = 700;
    private static final float VERSION = 1.7f;
    /** The seed of the file's identity; PDFBox would take the clock. */
    private static final long NO_TIME = 0;

    private PdfPages() {}

    /**
     * Returns a page as a PDF file.
     *
     * @param html well-formed, from our own template
     * @param title the document's title
     */
    static byte[] of(String html, String title) {
        List<String> troubles = new ArrayList<>();
        XRLog.setLoggingEnabled(false);
        PDDocument document = new PDDocument();
        PdfRendererBuilder builder = new PdfRendererBuilder();
        builder.usePDDocument(document);
        builder.useFastMode();
        builder.usePdfUaAccessibility(true);
        builder.usePdfVersion(VERSION);
        builder.useSVGDrawer(new SvgPainter());
        builder.useUnicodeLineBreaker(new WordBreaker());
        builder.useFont(new PDFontSupplier(font("Regular", document)), FAMILY, REGULAR, FontStyle.NORMAL, true);
        builder.useFont(new PDFontSupplier(font("Bold", document)), FAMILY, BOLD, FontStyle.NORMAL, true);
        builder.withW3cDocument(described(html), null);
        builder.withProducer("Daylight");
        builder.withDiagnosticConsumer(diagnostic -> {
            if (diagnostic.getLevel().intValue() >= Level.WARNING.intValue()) {
                troubles.add(diagnostic.getFormattedMessage());
            }
        });
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (document;
                PdfBoxRenderer renderer = builder.buildPdfRenderer()) {
            renderer.createPDFKeepOpen();
            if (!troubles.isEmpty()) {
                throw new IllegalStateException(
                        "the page could not be laid out whole: " + troubles.get(0) + "; please report this");
            }
            timeless(document, title);
            document.save(bytes);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    /** A font without its glyph substitutions: they cost two thirds of the time and change nothing in these pages. */
    private static PDFont font(String style, PDDocument document) {
        String path = FONTS + "LiberationSans-" + style + ".ttf";
        try (InputStream file = PdfPages.class.getResourceAsStream(path)) {
            if (file == null) {
                throw new IllegalStateException("the font is missing from the program: " + path);
            }
            TrueTypeFont font = new TTFParser().parse(new RandomAccessReadBuffer(file));
            font.setEnableGsub(false);
            return PDType0Font.load(document, font, true);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Reads the page and gives each picture the words that a PDF reader says in its place. */
    private static Document described(String html) {
        try {
            DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
            factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
            factory.setFeature("http://apache.org/xml/features/nonvalidating/load-external-dtd", false);
            Document document = factory.newDocumentBuilder().parse(new InputSource(new StringReader(html)));
            describe(document.getDocumentElement());
            return document;
        } catch (ParserConfigurationException | SAXException | IOException e) {
            throw new IllegalStateException("the page is not well-formed; please report this", e);
        }
    }

    private static void describe(Element element) {
        if (element.getNodeName().equals("svg")) {
            element.setAttribute("alt", said(element));
            return;
        }
        for (Node node = element.getFirstChild(); node != null; node = node.getNextSibling()) {
            if (node instanceof Element inner) {
                describe(inner);
            }
        }
    }

    private static String said(Element picture) {
        NodeList titles = picture.getElementsByTagName("title");
        return picture.hasAttribute("aria-label") || titles.getLength() == 0
                ? picture.getAttribute("aria-label")
                : titles.item(0).getTextContent();
    }

    private static void timeless(PDDocument document, String title) throws IOException {
        PDDocumentInformation information = new PDDocumentInformation();
        information.setTitle(title);
        information.setProducer("Daylight");
        document.setDocumentInformation(information);
        document.setDocumentId(NO_TIME);
        String packet = "<?xpacket begin=\"\uFEFF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
                + "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
                + "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\""
                + " xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\">\n"
                + "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">" + Drawing.escaped(title)
                + "</rdf:li></rdf:Alt></dc:title>\n"
                + "<pdf:Producer>Daylight</pdf:Producer>\n<pdfuaid:part>1</pdfuaid:part>\n"
                + "</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"w\"?>";
        document.getDocumentCatalog()
                .setMetadata(
                        new PDMetadata(document, new ByteArrayInputStream(packet.getBytes(StandardCharsets.UTF_8))));
    }
}
