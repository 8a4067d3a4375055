package daylight.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import daylight.clearance.GapDoubts;
import daylight.clearance.GapRow;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import javax.xml.parsers.DocumentBuilder;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.ErrorHandler;
import org.xml.sax.InputSource;
import org.xml.sax.SAXParseException;

class ReportPagesTest {
    /** All that the template may use; a script, a link, a form or an embedded page is not among them. */
    private static final Set<String> ELEMENTS = Set.of(
            "html", "head", "meta", "title", "style", "body", "div", "span", "h1", "h2", "h3", "p", "table", "caption",
            "thead", "tbody", "tr", "th", "td", "svg", "g", "desc", "path", "line", "rect", "circle", "text");

    private static Report pickup;
    private static JsonNode pickupJson;

    @BeforeAll
    static void computeThePickup() throws Exception {
        pickup = ReportCars.demo("harbour-pickup.yaml");
        pickupJson = new ObjectMapper().readTree(ReportJson.of(pickup));
    }

    private static Document parsed(String html) throws Exception {
        DocumentBuilder builder = DocumentBuilderFactory.newInstance().newDocumentBuilder();
        builder.setErrorHandler(new ErrorHandler() {
            @Override
            public void warning(SAXParseException e) throws SAXParseException {
                throw e;
            }

            @Override
            public void error(SAXParseException e) throws SAXParseException {
                throw e;
            }

            @Override
            public void fatalError(SAXParseException e) throws SAXParseException {
                throw e;
            }
        });
        return builder.parse(new InputSource(new StringReader(html)));
    }

    private static List<Element> elements(Document document) {
        NodeList all = document.getElementsByTagName("*");
        List<Element> elements = new ArrayList<>();
        for (int i = 0; i < all.getLength(); i++) {
            elements.add((Element) all.item(i));
        }
        return elements;
    }

    private static void needsNothingElse(String html) throws Exception {
        Set<String> ids = new TreeSet<>();
        for (Element element : elements(parsed(html))) {
            assertThat(ELEMENTS).as("elements of the page").contains(element.getTagName());
            for (String outside : List.of("href", "src", "xlink:href", "onload", "onclick", "action")) {
                assertThat(element.hasAttribute(outside))
                        .as("%s of %s", outside, element.getTagName())
                        .isFalse();
            }
            if (element.hasAttribute("id")) {
                assertThat(ids.add(element.getAttribute("id")))
                        .as("id used once")
                        .isTrue();
            }
        }
        assertThat(html).doesNotContain("url(").doesNotContain("@import");
    }

    @Test
    void htmlIsWellFormedAndNeedsNothingElse() throws Exception {
        needsNothingElse(ReportPages.html(pickup));
    }

    @Test
    void markupInNamesIsShownAndDoesNothing() throws Exception {
        Report nasty = ReportCars.of(ReportCars.NASTY, true);
        String html = ReportPages.html(nasty);
        needsNothingElse(html);
        Document page = parsed(html);
        assertThat(page.getElementsByTagName("h1").item(0).getTextContent())
                .isEqualTo("Pedal <b>& 'friends'\" \\ </style><script>alert(1)</script>");
        assertThat(page.getDocumentElement().getTextContent())
                .contains("arm <b>&\"'</b>", "bracket ]]> {{car}}", "</title> & \"VIN\"", "<i>my own & \"only\"</i>");
        TaggedPdf pdf = new TaggedPdf(ReportPages.pdf(nasty, Paper.A4));
        assertThat(pdf.text.replaceAll("\\s+", ""))
                .contains("Pedal<b>&'friends'\"\\</style><script>alert(1)</script>,</title>&\"VIN\"")
                .contains("a<floor>&a'line'", "bracket]]>{{car}}");
        assertThat(pdf.title).startsWith("Pedal <b>& 'friends'\" \\ </style>");
    }

    @ParameterizedTest
    @EnumSource(Paper.class)
    void theSameReportGivesTheSameBytes(Paper paper) throws Exception {
        byte[] first = ReportPages.pdf(ReportCars.of(ReportCars.NASTY, true), paper);
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.forLanguageTag("de-DE"));
            Report again = ReportCars.of(ReportCars.NASTY, true);
            assertThat(ReportPages.pdf(again, paper)).as("PDF").isEqualTo(first);
        } finally {
            Locale.setDefault(before);
        }
    }

    @Test
    void htmlAndJsonAreTheSameEveryTimeAndInEveryCountry() throws Exception {
        Report report = ReportCars.of(ReportCars.NASTY, false);
        String html = ReportPages.html(report);
        String json = ReportJson.of(report);
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
            Report again = ReportCars.of(ReportCars.NASTY, false);
            assertThat(ReportPages.html(again)).isEqualTo(html);
            assertThat(ReportJson.of(again)).isEqualTo(json);
        } finally {
            Locale.setDefault(before);
        }
    }

    @ParameterizedTest
    @EnumSource(Paper.class)
    void pdfIsTaggedTitledPagedAndCarriesItsFonts(Paper paper) throws Exception {
        TaggedPdf pdf = new TaggedPdf(ReportPages.pdf(pickup, paper));
        assertThat(pdf.tagged).isTrue();
        assertThat(pdf.title).isEqualTo("Harbour Street pickup: clearance report");
        assertThat(pdf.fonts).isNotEmpty().allMatch(name -> name.contains("+LiberationSans"));
        assertThat(pdf.fontsNotEmbedded).isEmpty();
        for (int page = 1; page <= pdf.pages; page++) {
            assertThat(pdf.text).contains("page " + page + " of " + pdf.pages);
        }
        assertThat(pdf.headings).contains("Harbour Street pickup", "Every pair", "How this was computed");
        assertThat(pdf.pictures)
                .as("every picture is said in words")
                .doesNotContain("")
                .doesNotContainNull();
    }

    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void everyNumberOfThePdfsTableOfPairsEqualsTheJson(boolean inches) throws Exception {
        Report shown = pickup.with(new Report.Style(inches, false));
        LengthFormat format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        Wording wording = Wording.in(format);
        TaggedPdf pdf = new TaggedPdf(ReportPages.pdf(shown, Paper.LETTER));
        int head = indexOfHead(pdf.rows, "floor");
        List<JsonNode> listed = new ArrayList<>();
        for (JsonNode row : pickupJson.get("gaps").get("pairs")) {
            if (!row.get("proof").asText().equals("far apart")) {
                listed.add(row);
            }
        }
        assertThat(listed).hasSizeGreaterThan(100);
        List<String> columns =
                pdf.rows.get(head).stream().map(ReportPagesTest::once).toList();
        for (int i = 0; i < listed.size(); i++) {
            JsonNode row = listed.get(i);
            List<String> cells = pdf.rows.get(head + 1 + i);
            String pair = row.get("first").asText() + " / " + row.get("second").asText();
            assertThat(cells.get(columns.indexOf("pair")).replace(" ", ""))
                    .as("a name may go on in the next line after a hyphen")
                    .isEqualTo(pair.replace(" ", ""));
            assertThat(cells.get(0)).isEqualTo(Integer.toString(i + 1));
            assertThat(cells.get(columns.indexOf("state")))
                    .isEqualTo(row.get("state").asText());
            String[][] numbers = {
                {"as it stands", wording.gap(row.get("gap at ride height").asDouble())},
                {"least", wording.gap(row.get("least gap").asDouble())},
                {"asked", wording.required(row.get("required").asDouble())},
                {"margin", wording.gap(row.get("margin").asDouble())}
            };
            // The JSON's floor is rounded down to a tenth of a micrometre, so that it stays one.
            double floor = row.get("floor").asDouble();
            assertThat(cells.get(columns.indexOf("floor")))
                    .as("floor of " + pair)
                    .isIn(
                            row.get("floor").isNull()
                                    ? List.of("")
                                    : List.of(wording.gap(floor), wording.gap(floor + 1e-4)));
            for (String[] number : numbers) {
                assertThat(cells.get(columns.indexOf(number[0])))
                        .as("%s of %s", number[0], pair)
                        .isEqualTo(number[1]);
            }
        }
    }

    /** A heading that is repeated on every page is tagged once, with the words of all its pages. */
    private static String once(String words) {
        return words.replaceAll("^(.+?)( \\1)+$", "$1");
    }

    private static int indexOfHead(List<List<String>> rows, String column) {
        for (int i = 0; i < rows.size(); i++) {
            if (rows.get(i).stream().map(ReportPagesTest::once).toList().contains(column)) {
                return i;
            }
        }
        throw new AssertionError("no table has a column " + column);
    }

    @Test
    void aSectionWithoutAnythingToSayIsNotPrinted() throws Exception {
        String still = """
                daylight: 1
                car: Two blocks
                units: mm
                parts:
                  one: {on: chassis, box: {centre: [0, 0, 0], size: [10, 10, 10]}}
                  other: {on: chassis, box: {centre: [30, 0, 0], size: [10, 10, 10]}}
                """;
        Report report = ReportCars.of(still, false);
        String html = ReportPages.html(report);
        needsNothingElse(html);
        assertThat(html)
                .contains("nothing to measure")
                .doesNotContain("id=\"travel\"", "id=\"hoses\"", "id=\"points\"", "id=\"geometry\"", "id=\"contact\"")
                .doesNotContain("id=\"shop\"", "id=\"drawn\"");
        assertThat(new TaggedPdf(ReportPages.pdf(report, Paper.A4)).pages).isLessThan(7);
    }

    @Test
    void eachTightGapSaysHowSureItIsAndWhatToReadAgain() {
        String html = ReportPages.html(pickup);
        Wording wording = Wording.in(ReportWords.format(pickup));
        int said = 0;
        for (GapRow row : pickup.tightest()) {
            Optional<GapDoubts.Row> doubt = pickup.doubts().orElseThrow().of(row.first(), row.second());
            if (doubt.isPresent()) {
                String interval = wording.gap(doubt.get().doubt().low95Mm()) + " to "
                        + wording.required(doubt.get().doubt().high95Mm());
                assertThat(html)
                        .as("%s", doubt.get())
                        .contains("<td class=\"n\">" + interval + "</td><td class=\"n\">"
                                + SurveyWords.chance(doubt.get().doubt().chanceOfTouching()) + "</td>")
                        .contains("95 times in 100 the gap is " + interval);
                said++;
            }
        }
        assertThat(said).as("pairs of parts among the tightest").isGreaterThan(4);
        assertThat(html).contains("Which reading to take again first", "tailpipe&#39;s own figures");
        assertThat(ReportJson.of(pickup)).contains("\"chance of touching\"", "\"measure again\"");
    }

    @Test
    void theDateIsTheOneGivenNeverTheDayOfPrinting() throws Exception {
        assertThat(ReportPages.html(ReportCars.of(ReportCars.NASTY, true))).contains("1 May &lt;b&gt;");
        Report fromFile = new Report(
                pickup.car(),
                new Report.Source("x.yaml", "", Optional.empty(), "daylight"),
                pickup.style(),
                pickup.gaps(),
                pickup.travel(),
                pickup.hoses(),
                pickup.survey(),
                pickup.layouts(),
                pickup.trials(),
                pickup.inspection(),
                pickup.doubts(),
                pickup.measuredGaps());
        assertThat(fromFile.date()).hasValue("4 July");
    }
}
