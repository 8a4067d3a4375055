package daylight.report;

import com.openhtmltopdf.css.constants.IdentValue;
import com.openhtmltopdf.css.parser.FSRGBColor;
import com.openhtmltopdf.css.sheet.FontFaceRule;
import com.openhtmltopdf.css.style.CssContext;
import com.openhtmltopdf.css.value.FontSpecification;
import com.openhtmltopdf.extend.OutputDevice;
import com.openhtmltopdf.extend.SVGDrawer;
import com.openhtmltopdf.layout.SharedContext;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.render.AbstractOutputDevice;
import com.openhtmltopdf.render.Box;
import com.openhtmltopdf.render.RenderingContext;
import java.awt.BasicStroke;
import java.awt.Shape;
import java.awt.geom.AffineTransform;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Point2D;
import java.awt.geom.Rectangle2D;
import java.io.File;
import java.util.List;
import java.util.StringTokenizer;
import org.jspecify.annotations.Nullable;
import org.w3c.dom.Element;
import org.w3c.dom.Node;

/**
 * Puts the pictures of this package on paper as lines, areas and words of the page itself: vector, with the page's own
 * embedded fonts. It knows the part of SVG that {@link Drawing}, {@link TravelSvg} and {@link LayoutSvg} write (svg, g,
 * path of M, L, Q and Z, line, rect, circle, text, title), and refuses anything else, so that nothing is ever left out unnoticed.
 */
final class SvgPainter implements SVGDrawer {
    private static final String FAMILY = "Liberation Sans";

    @Override
    public SVGImage buildSVGImage(
            Element svg, @Nullable Box box, CssContext css, double cssWidth, double cssHeight, double dotsPerPixel) {
        return new Picture(svg, cssWidth, cssHeight, dotsPerPixel);
    }

    @Override
    public void importFontFaceRules(List<FontFaceRule> rules, SharedContext shared) {
        // The pages use the fonts that the renderer was given.
    }

    @Override
    public void addFontFile(File file, String family, Integer weight, FontStyle style) {
        // As above: there are no font files.
    }

    @Override
    public void close() {
        // Nothing is kept open.
    }

    /** How the next thing is drawn; what an element does not say comes from the one around it. */
    private record Ink(
            String fill,
            double opacity,
            String stroke,
            double width,
            String dash,
            String cap,
            double size,
            boolean bold,
            String anchor) {
        static final Ink DEFAULT = new Ink("#000000", 1, "none", 1, "", "butt", 16, false, "start");

        Ink within(Element e) {
            return new Ink(
                    said(e, "fill", fill),
                    number(e, "fill-opacity", opacity),
                    said(e, "stroke", stroke),
                    number(e, "stroke-width", width),
                    said(e, "stroke-dasharray", dash),
                    said(e, "stroke-linecap", cap),
                    number(e, "font-size", size),
                    said(e, "font-weight", bold ? "bold" : "normal").equals("bold"),
                    said(e, "text-anchor", anchor));
        }
    }

    /** One picture in its box on the page. */
    private static final class Picture implements SVGImage {
        private final Element svg;
        private final double[] view;
        private final double width;
        private final double height;

        Picture(Element svg, double cssWidth, double cssHeight, double dotsPerPixel) {
            this.svg = svg;
            this.view = view(svg);
            double ratio = view[3] / view[2];
            width = cssWidth >= 0
                    ? cssWidth
                    : cssHeight >= 0 ? cssHeight / ratio : number(svg, "width", view[2]) * dotsPerPixel;
            height = cssHeight >= 0 ? cssHeight : width * ratio;
        }

        @Override
        public int getIntrinsicWidth() {
            return (int) Math.round(width);
        }

        @Override
        public int getIntrinsicHeight() {
            return (int) Math.round(height);
        }

        @Override
        public void drawSVG(OutputDevice device, RenderingContext context, double x, double y) {
            double scale = Math.min(width / view[2], height / view[3]);
            AffineTransform place = new AffineTransform();
            place.translate(x, y);
            place.scale(scale, scale);
            place.translate(-view[0], -view[1]);
            device.pushClip(new Rectangle2D.Double(x, y, width, height));
            new Walk(device, context, scale).children(svg, Ink.DEFAULT.within(svg), place);
            device.popClip();
        }
    }

    private static double[] view(Element svg) {
        String[] parts = svg.getAttribute("viewBox").strip().split("[\\s,]+");
        if (parts.length != 4) {
            throw new IllegalStateException("a picture without a viewBox cannot be put on paper; please report this");
        }
        double[] view = new double[4];
        for (int i = 0; i < 4; i++) {
            view[i] = Double.parseDouble(parts[i]);
        }
        return view;
    }

    private static String said(Element e, String attribute, String otherwise) {
        String value = e.getAttribute(attribute);
        return value.isEmpty() ? otherwise : value;
    }

    private static double number(Element e, String attribute, double otherwise) {
        String value = e.getAttribute(attribute);
        if (value.isEmpty()) {
            return otherwise;
        }
        if (value.endsWith("%")) {
            throw new IllegalStateException("a share cannot be put on paper: " + attribute + "=" + value);
        }
        return Double.parseDouble(value.endsWith("px") ? value.substring(0, value.length() - 2) : value);
    }

    /** Draws the elements of a picture one after another. */
    private static final class Walk {
        private final OutputDevice device;
        private final RenderingContext context;
        private final double scale;

        Walk(OutputDevice device, RenderingContext context, double scale) {
            this.device = device;
            this.context = context;
            this.scale = scale;
        }

        void children(Element parent, Ink ink, AffineTransform place) {
            for (Node node = parent.getFirstChild(); node != null; node = node.getNextSibling()) {
                if (node instanceof Element element) {
                    element(element, ink.within(element), place);
                }
            }
        }

        private void element(Element e, Ink ink, AffineTransform place) {
            switch (e.getNodeName()) {
                case "title", "desc" -> {
                    // Said by the picture's alternative text.
                }
                case "g" -> children(e, ink, moved(e, place));
                case "svg" -> window(e, ink, place);
                case "path" -> ink(path(e.getAttribute("d")), ink, place);
                case "line" ->
                    ink(
                            new Line2D.Double(
                                    number(e, "x1", 0), number(e, "y1", 0), number(e, "x2", 0), number(e, "y2", 0)),
                            ink,
                            place);
                case "rect" -> ink(rectangle(e), ink, place);
                case "circle" -> {
                    double r = number(e, "r", 0);
                    ink(new Ellipse2D.Double(number(e, "cx", 0) - r, number(e, "cy", 0) - r, 2 * r, 2 * r), ink, place);
                }
                case "text" -> text(e, ink, place);
                default ->
                    throw new IllegalStateException("a picture has a <" + e.getNodeName()
                            + ">, which cannot be put on paper; please report this");
            }
        }

        private static AffineTransform moved(Element e, AffineTransform place) {
            String how = e.getAttribute("transform").strip();
            if (how.isEmpty()) {
                return place;
            }
            if (!how.startsWith("translate(") || !how.endsWith(")")) {
                throw new IllegalStateException("a picture is moved by " + how + ", which cannot be put on paper");
            }
            String[] parts = how.substring("translate(".length(), how.length() - 1)
                    .strip()
                    .split("[\\s,]+");
            AffineTransform there = new AffineTransform(place);
            there.translate(Double.parseDouble(parts[0]), parts.length > 1 ? Double.parseDouble(parts[1]) : 0);
            return there;
        }

        private void window(Element e, Ink ink, AffineTransform place) {
            Rectangle2D box = rectangle(e);
            double[] view = view(e);
            if (view[2] != box.getWidth() || view[3] != box.getHeight()) {
                throw new IllegalStateException("a window that changes the scale cannot be put on paper");
            }
            AffineTransform there = new AffineTransform(place);
            there.translate(box.getX() - view[0], box.getY() - view[1]);
            device.pushClip(place.createTransformedShape(box));
            children(e, ink, there);
            device.popClip();
        }

        private static Rectangle2D rectangle(Element e) {
            double width = e.getAttribute("width").equals("100%") ? whole(e, "width") : number(e, "width", 0);
            double height = e.getAttribute("height").equals("100%") ? whole(e, "height") : number(e, "height", 0);
            return new Rectangle2D.Double(number(e, "x", 0), number(e, "y", 0), width, height);
        }

        private static double whole(Element e, String attribute) {
            return e.getParentNode() instanceof Element parent ? number(parent, attribute, 0) : 0;
        }

        private void ink(Shape shape, Ink ink, AffineTransform place) {
            Shape placed = place.createTransformedShape(shape);
            if (!ink.fill().equals("none")) {
                device.setColor(over(colour(ink.fill()), ink.opacity()));
                device.fill(placed);
            }
            if (!ink.stroke().equals("none") && ink.width() > 0) {
                device.setColor(colour(ink.stroke()));
                device.setStroke(stroke(ink));
                device.draw(placed);
            }
        }

        private BasicStroke stroke(Ink ink) {
            float width = (float) (ink.width() * scale);
            int cap = ink.cap().equals("round") ? BasicStroke.CAP_ROUND : BasicStroke.CAP_BUTT;
            if (ink.dash().isEmpty()) {
                return new BasicStroke(width, cap, BasicStroke.JOIN_ROUND);
            }
            String[] parts = ink.dash().strip().split("[\\s,]+");
            float[] dash = new float[parts.length];
            for (int i = 0; i < parts.length; i++) {
                dash[i] = (float) (Double.parseDouble(parts[i]) * scale);
            }
            return new BasicStroke(width, cap, BasicStroke.JOIN_ROUND, 10, dash, 0);
        }

        /** What a see-through colour looks like over white paper, which is what is under it here. */
        private static FSRGBColor over(FSRGBColor colour, double opacity) {
            return new FSRGBColor(
                    (int) Math.round(255 - opacity * (255 - colour.getRed())),
                    (int) Math.round(255 - opacity * (255 - colour.getGreen())),
                    (int) Math.round(255 - opacity * (255 - colour.getBlue())));
        }

        private static FSRGBColor colour(String said) {
            String hex = said.startsWith("#") ? said.substring(1) : "";
            if (hex.length() == 3) {
                hex = "" + hex.charAt(0) + hex.charAt(0) + hex.charAt(1) + hex.charAt(1) + hex.charAt(2)
                        + hex.charAt(2);
            }
            if (hex.length() != 6) {
                throw new IllegalStateException("a colour cannot be put on paper: " + said);
            }
            return new FSRGBColor(Integer.parseInt(hex, 16));
        }

        private static Path2D path(String d) {
            Path2D path = new Path2D.Double(Path2D.WIND_NON_ZERO);
            StringTokenizer words = new StringTokenizer(d, " ,\n");
            while (words.hasMoreTokens()) {
                String word = words.nextToken();
                switch (word) {
                    case "M" -> path.moveTo(next(words), next(words));
                    case "L" -> path.lineTo(next(words), next(words));
                    case "Q" -> path.quadTo(next(words), next(words), next(words), next(words));
                    case "Z" -> path.closePath();
                    default -> throw new IllegalStateException("a path cannot be put on paper: " + word);
                }
            }
            return path;
        }

        private static double next(StringTokenizer words) {
            return Double.parseDouble(words.nextToken());
        }

        private void text(Element e, Ink ink, AffineTransform place) {
            String words = e.getTextContent();
            if (words.isBlank()) {
                return;
            }
            FontSpecification font = new FontSpecification();
            font.families = new String[] {FAMILY};
            font.size = (float) (ink.size() * scale);
            font.fontWeight = ink.bold() ? IdentValue.BOLD : IdentValue.NORMAL;
            font.fontStyle = IdentValue.NORMAL;
            font.variant = IdentValue.NORMAL;
            var resolved = context.getFont(font);
            double width = context.getTextRenderer().getWidth(context.getFontContext(), resolved, words);
            Point2D at = place.transform(new Point2D.Double(number(e, "x", 0), number(e, "y", 0)), null);
            double left = at.getX()
                    - switch (ink.anchor()) {
                        case "middle" -> width / 2;
                        case "end" -> width;
                        default -> 0;
                    };
            device.setColor(colour(ink.fill()));
            device.setFont(resolved);
            if (device instanceof AbstractOutputDevice page) {
                // Else the weight of the last words of the page would be made up for.
                page.setFontSpecification(font);
            }
            context.getTextRenderer().drawString(device, words, (float) left, (float) at.getY());
        }
    }
}
