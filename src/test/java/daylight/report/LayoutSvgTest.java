package daylight.report;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.Layout;
import daylight.car.Layouts;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

/** The picture of every layout: it names each point once, and can be read. */
class LayoutSvgTest {
    /** A line of text of 13 px, with room above and below. */
    private static final double LINE = 18;

    static Stream<Layout> layouts() {
        return Layouts.names().stream().map(name -> Layouts.named(name).orElseThrow());
    }

    private static Document picture(Layout layout) throws Exception {
        return DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new InputSource(new StringReader(LayoutSvg.of(layout))));
    }

    private static List<Element> elements(Document document, String name) {
        NodeList nodes = document.getElementsByTagName(name);
        List<Element> elements = new ArrayList<>();
        for (int k = 0; k < nodes.getLength(); k++) {
            elements.add((Element) nodes.item(k));
        }
        return elements;
    }

    private static double number(Element element, String attribute) {
        return Double.parseDouble(element.getAttribute(attribute));
    }

    @ParameterizedTest
    @MethodSource("layouts")
    void everyPointIsNamedOnce(Layout layout) throws Exception {
        List<String> words = elements(picture(layout), "text").stream()
                .map(Element::getTextContent)
                .toList();
        for (Layout.MeasuredPoint point : layout.points()) {
            String name = point.name() + (point.optional() ? " (optional)" : "");
            assertThat(words.stream().filter(name::equals)).as(name).hasSize(1);
        }
        assertThat(words).contains(layout.title());
        layout.bodies().forEach(body -> assertThat(words).as("named below").contains(body));
    }

    @ParameterizedTest
    @MethodSource("layouts")
    void namesDoNotOverlapAndStayInside(Layout layout) throws Exception {
        Document picture = picture(layout);
        double width = number(picture.getDocumentElement(), "width");
        double height = number(picture.getDocumentElement(), "height");
        List<double[]> boxes = new ArrayList<>();
        for (Element text : elements(picture, "text")) {
            // Wider than the mean letter of any plain sans serif.
            double size = number(text, "font-size");
            double length = 0.58 * size * text.getTextContent().length();
            double x = number(text, "x");
            double left = switch (text.getAttribute("text-anchor")) {
                case "end" -> x - length;
                case "middle" -> x - length / 2;
                default -> x;
            };
            double y = number(text, "y");
            boxes.add(new double[] {left, left + length, y - size, y});
            assertThat(left).as(text.getTextContent()).isGreaterThanOrEqualTo(0);
            assertThat(left + length).as(text.getTextContent()).isLessThanOrEqualTo(width);
            assertThat(y).as(text.getTextContent()).isBetween(size, height - 4);
        }
        for (int i = 0; i < boxes.size(); i++) {
            for (int j = i + 1; j < boxes.size(); j++) {
                double[] a = boxes.get(i);
                double[] b = boxes.get(j);
                boolean beside = a[1] <= b[0] || b[1] <= a[0];
                boolean above = a[3] <= b[2] || b[3] <= a[2];
                assertThat(beside || above)
                        .as(
                                "%s and %s of %s",
                                elements(picture, "text").get(i).getTextContent(),
                                elements(picture, "text").get(j).getTextContent(),
                                layout.name())
                        .isTrue();
            }
        }
    }

    @ParameterizedTest
    @MethodSource("layouts")
    void leadingLinesOfAColumnDoNotCross(Layout layout) throws Exception {
        List<Element> thin = elements(picture(layout), "line").stream()
                .filter(line -> line.getAttribute("stroke-width").equals("0.8"))
                .toList();
        assertThat(thin).hasSize(layout.points().size());
        for (Element a : thin) {
            for (Element b : thin) {
                if (a != b && number(a, "x1") == number(b, "x1")) {
                    assertThat(Math.abs(number(a, "y1") - number(b, "y1"))).isGreaterThanOrEqualTo(LINE);
                    assertThat(cross(a, b)).as(layout.name()).isFalse();
                }
            }
        }
    }

    private static boolean cross(Element a, Element b) {
        return side(a, number(b, "x1"), number(b, "y1")) * side(a, number(b, "x2"), number(b, "y2")) < 0
                && side(b, number(a, "x1"), number(a, "y1")) * side(b, number(a, "x2"), number(a, "y2")) < 0;
    }

    private static double side(Element line, double x, double y) {
        return (number(line, "x2") - number(line, "x1")) * (y - number(line, "y1"))
                - (number(line, "y2") - number(line, "y1")) * (x - number(line, "x1"));
    }

    @ParameterizedTest
    @MethodSource("layouts")
    void samePictureInEveryCountry(Layout layout) {
        String here = LayoutSvg.of(layout);
        Locale was = Locale.getDefault();
        try {
            Locale.setDefault(Locale.GERMANY);
            assertThat(LayoutSvg.of(layout)).isEqualTo(here);
        } finally {
            Locale.setDefault(was);
        }
        assertThat(here).doesNotContain("NaN").doesNotContain("Infinity");
    }
}
