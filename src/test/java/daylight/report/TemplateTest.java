package daylight.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Cut;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.units.LengthFormat;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.ImageType;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Templates: full size on paper, on as many sheets as they need, with what a builder has to know on each. */
class TemplateTest {
    private static final int DPI = 600;
    private static final double MM_PER_PIXEL = 25.4 / DPI;
    /** What the issue asks of the bar, mm. */
    private static final double BAR_MM = 0.1;

    private static final int DARK = 100;

    private static Shape.Plate plate(double wide, double high) {
        return new Shape.Plate(
                new Spot(0, 300, 400),
                Direction.LEFT,
                Direction.UP,
                5,
                List.of(new Flat(0, 0), new Flat(wide, 0), new Flat(wide, high), new Flat(0, high)),
                List.of(new Shape.Plate.Hole(new Flat(15, 15), 10)));
    }

    private static Template template(Shape.Plate plate, Paper paper) {
        return Template.of(
                "Test car",
                "left bracket",
                plate,
                Optional.of(new Cut.Straight(1, 20, 2, 30)),
                LengthFormat.TENTHS_OF_MM,
                paper);
    }

    @ParameterizedTest
    @EnumSource
    void scaleBarsMeasureFiftyMillimetresAndTwoInchesOnPaper(Paper paper) throws IOException {
        byte[] pdf = TemplatePdf.of(template(plate(90, 120), paper));
        try (PDDocument document = Loader.loadPDF(pdf)) {
            BufferedImage page = new PDFRenderer(document).renderImageWithDPI(0, DPI, ImageType.GRAY);
            assertThat(page.getWidth() * MM_PER_PIXEL).isCloseTo(paper.widthMm(), within(BAR_MM));
            assertThat(page.getHeight() * MM_PER_PIXEL).isCloseTo(paper.heightMm(), within(BAR_MM));
            List<Integer> bars = bars(page);
            assertThat(bars).hasSize(2);
            assertThat(bars.get(0) * MM_PER_PIXEL).isCloseTo(Template.METRIC_BAR_MM, within(BAR_MM));
            assertThat(bars.get(1) * MM_PER_PIXEL).isCloseTo(Template.INCH_BAR_MM, within(BAR_MM));
        }
    }

    /** The long black runs of the row that has most black in the lower fifth of a page. */
    private static List<Integer> bars(BufferedImage page) {
        int[] line = new int[page.getWidth()];
        List<Integer> best = List.of();
        for (int y = page.getHeight() * 4 / 5; y < page.getHeight(); y++) {
            page.getRaster().getPixels(0, y, page.getWidth(), 1, line);
            List<Integer> runs = new java.util.ArrayList<>();
            int run = 0;
            for (int x = 0; x < line.length; x++) {
                if (line[x] < DARK) {
                    run++;
                } else {
                    if (run > 500) {
                        runs.add(run);
                    }
                    run = 0;
                }
            }
            if (runs.size() > best.size()) {
                best = runs;
            }
        }
        return best;
    }

    /** The plate's own edges are full size too: 90 and 120 between the middles of their lines. */
    @Test
    void plateIsDrawnFullSize() {
        Template.Sheet sheet = template(plate(90, 120), Paper.A4).sheets().get(0);
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (Template.Mark mark : sheet.marks()) {
            if (mark instanceof Template.Mark.Line line && line.pen() == Template.Pen.METAL) {
                least = Math.min(least, Math.min(line.x1(), line.x2()));
                most = Math.max(most, Math.max(line.x1(), line.x2()));
            }
        }
        assertThat(most - least).isCloseTo(90, within(1e-9));
    }

    @Test
    void largePlateGoesOverSeveralSheetsThatOverlap() throws IOException {
        Template template = template(plate(400, 300), Paper.A4);
        assertThat(template.sheets()).hasSize(6);
        try (PDDocument document = Loader.loadPDF(TemplatePdf.of(template))) {
            assertThat(document.getNumberOfPages()).isEqualTo(6);
            for (int page = 1; page <= 6; page++) {
                PDFTextStripper words = new PDFTextStripper();
                words.setStartPage(page);
                words.setEndPage(page);
                assertThat(words.getText(document))
                        .contains("left bracket", "sheet " + page + " of 6", "joins sheet", "This bar is 50 mm long.");
            }
        }
        double edge = 0;
        for (Template.Sheet sheet : template.sheets()) {
            for (Template.Mark mark : sheet.marks()) {
                if (mark instanceof Template.Mark.Line line && line.pen() == Template.Pen.METAL) {
                    edge += Math.hypot(line.x2() - line.x1(), line.y2() - line.y1());
                }
            }
        }
        double whole = 2 * (400 + 300) - 20 - 30;
        assertThat(edge)
                .as("every piece of the edge is on some sheet, overlaps twice")
                .isGreaterThan(whole);
        assertThat(edge).isLessThan(whole + 8 * 10 + 1);
    }

    @Test
    void templateSaysWhichPartWhichFaceAndWhichCorner() throws IOException {
        Template template = template(plate(90, 120), Paper.LETTER);
        try (PDDocument document = Loader.loadPDF(TemplatePdf.of(template))) {
            assertThat(new PDFTextStripper().getText(document))
                    .contains(
                            "left bracket",
                            "This side up",
                            "forward",
                            "datum corner",
                            "top edge",
                            "20.0 mm",
                            "30.0 mm");
        }
        String svg = TemplateSvg.of(template).get(0);
        assertThat(svg).contains("datum corner", "width=\"215.900mm\"", "height=\"279.400mm\"", "left bracket");
    }

    @Test
    void sameTemplateGivesTheSameBytesInEveryCountry() {
        Template template = template(plate(90, 120), Paper.A4);
        byte[] pdf = TemplatePdf.of(template);
        String svg = TemplateSvg.of(template).get(0);
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.GERMANY);
            assertThat(TemplatePdf.of(template(plate(90, 120), Paper.A4))).isEqualTo(pdf);
            assertThat(TemplateSvg.of(template).get(0)).isEqualTo(svg);
        } finally {
            Locale.setDefault(before);
        }
    }

    @Test
    void everyKindOfCutIsDrawn() {
        for (Cut cut : List.of(
                new Cut.Round(2, 25),
                new Cut.Notch(1, true, 0, 20, 15),
                new Cut.HoleFilled(0),
                new Cut.HoleDrilled(new Flat(50, 50), 8))) {
            Template template = Template.of(
                    "Test car", "bracket <1>", plate(90, 120), Optional.of(cut), LengthFormat.SIXTEENTHS, Paper.A4);
            assertThat(TemplatePdf.of(template)).isNotEmpty();
            assertThat(TemplateSvg.of(template).get(0)).contains("bracket &lt;1&gt;");
        }
    }
}
