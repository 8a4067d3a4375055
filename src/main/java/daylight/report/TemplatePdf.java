package daylight.report;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.font.PDType1Font;
import org.apache.pdfbox.pdmodel.font.Standard14Fonts;

/** A template as PDF, a page a sheet, in vectors at full size. The same template gives the same bytes. */
public final class TemplatePdf {
    /** PDF's own unit: 1/72 in. */
    private static final double POINTS_PER_MM = 72 / 25.4;
    /** The letters' size of type for capitals of a given height. */
    private static final double TYPE = 1 / 0.72;
    /** A quarter of a circle as a cubic curve: within 0.03 % of the radius. */
    private static final double ROUND = 0.5522847498;

    private static final int LATIN = 0xff;
    private static final float[] DASHES = {(float) (2 * POINTS_PER_MM), (float) (1.5 * POINTS_PER_MM)};

    private TemplatePdf() {}

    /** Returns the document's bytes. */
    public static byte[] of(Template template) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (PDDocument document = new PDDocument()) {
            // Without a number of its own a document is numbered by the clock.
            document.setDocumentId(0L);
            PDFont font = new PDType1Font(Standard14Fonts.FontName.HELVETICA);
            float wide = points(template.paper().widthMm());
            float high = points(template.paper().heightMm());
            for (Template.Sheet sheet : template.sheets()) {
                PDPage page = new PDPage(new PDRectangle(wide, high));
                document.addPage(page);
                try (PDPageContentStream out = new PDPageContentStream(document, page)) {
                    for (Template.Mark mark : sheet.marks()) {
                        mark(out, mark, template.paper().heightMm(), font);
                    }
                }
            }
            document.save(bytes);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    private static void mark(PDPageContentStream out, Template.Mark mark, double highMm, PDFont font)
            throws IOException {
        if (mark instanceof Template.Mark.Line line) {
            pen(out, line.pen());
            out.moveTo(points(line.x1()), points(highMm - line.y1()));
            out.lineTo(points(line.x2()), points(highMm - line.y2()));
            out.stroke();
        } else if (mark instanceof Template.Mark.Ring ring) {
            pen(out, ring.pen());
            ring(out, ring.x(), highMm - ring.y(), ring.radiusMm());
            out.stroke();
        } else if (mark instanceof Template.Mark.Bar bar) {
            out.setNonStrokingColor(0f, 0f, 0f);
            out.addRect(
                    points(bar.x()),
                    points(highMm - bar.y() - bar.highMm()),
                    points(bar.wideMm()),
                    points(bar.highMm()));
            out.fill();
        } else if (mark instanceof Template.Mark.Words words) {
            out.setNonStrokingColor(0f, 0f, 0f);
            out.beginText();
            out.setFont(font, points(words.highMm() * TYPE));
            out.newLineAtOffset(points(words.x()), points(highMm - words.y()));
            out.showText(latin(words.text()));
            out.endText();
        }
    }

    private static void pen(PDPageContentStream out, Template.Pen pen) throws IOException {
        out.setStrokingColor(pen.red() / 255f, pen.green() / 255f, pen.blue() / 255f);
        out.setLineWidth(points(pen.wideMm()));
        out.setLineDashPattern(pen.dashed() ? DASHES : new float[0], 0);
    }

    private static void ring(PDPageContentStream out, double x, double y, double r) throws IOException {
        double k = ROUND * r;
        out.moveTo(points(x + r), points(y));
        curve(out, x + r, y + k, x + k, y + r, x, y + r);
        curve(out, x - k, y + r, x - r, y + k, x - r, y);
        curve(out, x - r, y - k, x - k, y - r, x, y - r);
        curve(out, x + k, y - r, x + r, y - k, x + r, y);
    }

    private static void curve(PDPageContentStream out, double x1, double y1, double x2, double y2, double x, double y)
            throws IOException {
        out.curveTo(points(x1), points(y1), points(x2), points(y2), points(x), points(y));
    }

    private static float points(double mm) {
        return (float) (mm * POINTS_PER_MM);
    }

    /** The plain face has Latin letters only; others become a question mark. */
    private static String latin(String text) {
        StringBuilder latin = new StringBuilder();
        text.codePoints()
                .forEach(c -> latin.appendCodePoint(c >= ' ' && c <= LATIN && !(c >= 0x7f && c < 0xa0) ? c : '?'));
        return latin.toString();
    }
}
