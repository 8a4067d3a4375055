package daylight.bench;

import java.io.IOException;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.geometry.VPos;
import javafx.scene.Group;
import javafx.scene.Node;
import javafx.scene.layout.Region;
import javafx.scene.paint.Color;
import javafx.scene.paint.Paint;
import javafx.scene.shape.Circle;
import javafx.scene.shape.Line;
import javafx.scene.shape.Rectangle;
import javafx.scene.shape.SVGPath;
import javafx.scene.shape.Shape;
import javafx.scene.shape.StrokeLineCap;
import javafx.scene.text.Font;
import javafx.scene.text.FontWeight;
import javafx.scene.text.Text;
import javafx.scene.text.TextAlignment;
import javafx.scene.transform.Scale;
import javax.xml.parsers.DocumentBuilder;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.w3c.dom.Element;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;

/**
 * One of the program's own SVG pictures, drawn as large as its room allows. Only the elements that those pictures
 * consist of are known; any other is the program's mistake, so that nothing goes missing unseen.
 */
final class SvgView extends Region {
    private static final double USUAL_WIDTH = 420;
    private static final double USUAL_HEIGHT = 240;

    private final Group drawn = new Group();
    private final Scale scale = new Scale();
    private double width = 1;
    private double height = 1;

    SvgView() {
        getStyleClass().add("paper");
        drawn.getTransforms().add(scale);
        drawn.setManaged(false);
        getChildren().add(drawn);
        setMinSize(60, 40);
    }

    /** Shows a picture; an empty text shows nothing. */
    void show(String svg) {
        drawn.getChildren().clear();
        if (svg.isEmpty()) {
            setAccessibleText("No picture");
            return;
        }
        Element root = parsed(svg);
        width = number(root, "width", 100);
        height = number(root, "height", 100);
        List<String> titles = new ArrayList<>();
        for (org.w3c.dom.Node child = root.getFirstChild(); child != null; child = child.getNextSibling()) {
            if (child instanceof Element element) {
                if (element.getTagName().equals("title")) {
                    titles.add(element.getTextContent());
                } else if (!element.getTagName().equals("desc")) {
                    node(root, element).ifPresent(drawn.getChildren()::add);
                }
            }
        }
        setAccessibleText("Picture: " + String.join(", ", titles));
        requestLayout();
    }

    private static Element parsed(String svg) {
        try {
            DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
            factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
            DocumentBuilder builder = factory.newDocumentBuilder();
            return builder.parse(new InputSource(new StringReader(svg))).getDocumentElement();
        } catch (ParserConfigurationException | SAXException | IOException e) {
            throw new IllegalStateException("a picture of the program is not SVG; please report this", e);
        }
    }

    private Optional<Node> node(Element root, Element element) {
        return switch (element.getTagName()) {
            case "rect" -> Optional.of(rectangle(element));
            case "circle" ->
                Optional.of(painted(
                        new Circle(number(element, "cx", 0), number(element, "cy", 0), number(element, "r", 0)),
                        element));
            case "line" ->
                Optional.of(painted(
                        new Line(
                                number(element, "x1", 0),
                                number(element, "y1", 0),
                                number(element, "x2", 0),
                                number(element, "y2", 0)),
                        element));
            case "path" -> {
                SVGPath path = new SVGPath();
                path.setContent(element.getAttribute("d"));
                yield Optional.of(painted(path, element));
            }
            case "text" -> Optional.of(words(root, element));
            default ->
                throw new IllegalStateException(
                        "a picture has the unknown element " + element.getTagName() + "; please report this");
        };
    }

    private Node rectangle(Element element) {
        Rectangle rectangle = new Rectangle(
                number(element, "x", 0),
                number(element, "y", 0),
                element.getAttribute("width").endsWith("%") ? width : number(element, "width", 0),
                element.getAttribute("height").endsWith("%") ? height : number(element, "height", 0));
        rectangle.setArcWidth(2 * number(element, "rx", 0));
        rectangle.setArcHeight(2 * number(element, "rx", 0));
        return painted(rectangle, element);
    }

    private static Node words(Element root, Element element) {
        Text text = new Text(element.getTextContent());
        text.setTextOrigin(VPos.BASELINE);
        double size = number(element, "font-size", number(root, "font-size", 12));
        boolean bold = element.getAttribute("font-weight").equals("bold");
        text.setFont(Font.font("sans-serif", bold ? FontWeight.BOLD : FontWeight.NORMAL, size));
        text.setFill(colour(element.getAttribute("fill").isEmpty() ? root : element, "fill", Color.BLACK));
        text.setTextAlignment(TextAlignment.LEFT);
        double wide = text.getLayoutBounds().getWidth();
        String anchor = element.getAttribute("text-anchor");
        double x = number(element, "x", 0);
        text.setX(anchor.equals("end") ? x - wide : anchor.equals("middle") ? x - wide / 2 : x);
        text.setY(number(element, "y", 0));
        return text;
    }

    private static Node painted(Shape shape, Element element) {
        boolean line = element.getTagName().equals("line");
        shape.setFill(line ? Color.TRANSPARENT : colour(element, "fill", Color.BLACK));
        if (element.hasAttribute("fill-opacity") && shape.getFill() instanceof Color colour) {
            shape.setFill(colour.deriveColor(0, 1, 1, number(element, "fill-opacity", 1)));
        }
        if (element.hasAttribute("stroke")) {
            shape.setStroke(colour(element, "stroke", Color.BLACK));
            shape.setStrokeWidth(number(element, "stroke-width", 1));
            shape.setStrokeLineCap(
                    element.getAttribute("stroke-linecap").equals("round") ? StrokeLineCap.ROUND : StrokeLineCap.BUTT);
            for (String dash : element.getAttribute("stroke-dasharray").split("[ ,]+", -1)) {
                if (!dash.isEmpty()) {
                    shape.getStrokeDashArray().add(Double.valueOf(dash));
                }
            }
        }
        return shape;
    }

    private static Paint colour(Element element, String attribute, Color usual) {
        String value = element.getAttribute(attribute);
        return value.isEmpty() ? usual : value.equals("none") ? Color.TRANSPARENT : Color.web(value);
    }

    private static double number(Element element, String attribute, double usual) {
        String value = element.getAttribute(attribute);
        return value.isEmpty() ? usual : Double.parseDouble(value);
    }

    // The picture takes what room there is and asks for none: it would otherwise push its neighbours out.
    @Override
    protected double computePrefWidth(double forHeight) {
        return USUAL_WIDTH;
    }

    @Override
    protected double computePrefHeight(double forWidth) {
        return USUAL_HEIGHT;
    }

    @Override
    protected void layoutChildren() {
        double by = Math.max(0.05, Math.min(getWidth() / width, getHeight() / height));
        scale.setX(by);
        scale.setY(by);
        drawn.relocate(0, 0);
        drawn.setLayoutX((getWidth() - by * width) / 2);
        drawn.setLayoutY((getHeight() - by * height) / 2);
    }
}
