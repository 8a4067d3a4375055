package daylight.report;

import java.util.List;

/**
 * A picture being drawn: lines, areas and words in pixels from the top left, written as SVG. Only what is named here is
 * ever drawn, so that {@link SvgPainter} can put every picture on paper.
 */
final class Drawing {
    /** Ink for words and outlines. */
    static final String INK = "#1a1a1a";
    /** Ink for what matters less. */
    static final String QUIET = "#5a5a5a";
    /** Grid lines. */
    static final String FAINT = "#dddddd";

    private static final int PLACES = 2;

    private final StringBuilder svg = new StringBuilder();

    /**
     * How a line is drawn.
     *
     * @param colour as {@code #rrggbb}, or {@code none}
     * @param width px
     * @param dash lengths of dashes and gaps, px; empty for a full line
     */
    record Pen(String colour, double width, String dash) {
        static final Pen NONE = new Pen("none", 0, "");

        static Pen of(String colour, double width) {
            return new Pen(colour, width, "");
        }

        private String attributes() {
            if (colour.equals("none")) {
                return "";
            }
            return " stroke=\"" + colour + "\" stroke-width=\"" + number(width) + "\" stroke-linejoin=\"round\""
                    + " stroke-linecap=\"round\"" + (dash.isEmpty() ? "" : " stroke-dasharray=\"" + dash + "\"");
        }
    }

    /** How words lie about their place. */
    enum Anchor {
        START("start"),
        MIDDLE("middle"),
        END("end");

        private final String word;

        Anchor(String word) {
            this.word = word;
        }
    }

    /**
     * Begins a picture.
     *
     * @param width px
     * @param height px
     * @param title what it shows, in a sentence: read aloud, and shown where the picture cannot be
     */
    Drawing(double width, double height, String title) {
        String size = number(width) + "\" height=\"" + number(height);
        svg.append("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"")
                .append(escaped(title))
                .append("\" width=\"")
                .append(size)
                .append("\" viewBox=\"0 0 ")
                .append(number(width))
                .append(' ')
                .append(number(height))
                .append(
                        "\" font-family=\"Liberation Sans, Arial, Helvetica, sans-serif\" font-size=\"12\" fill=\"none\">\n<title>")
                .append(escaped(title))
                .append("</title>\n");
    }

    /** Begins a window: until {@link #close}, nothing is drawn outside it; places stay those of the whole picture. */
    Drawing open(double x, double y, double width, double height) {
        String box =
                number(x) + "\" y=\"" + number(y) + "\" width=\"" + number(width) + "\" height=\"" + number(height);
        svg.append("<svg x=\"")
                .append(box)
                .append("\" viewBox=\"")
                .append(number(x))
                .append(' ')
                .append(number(y))
                .append(' ')
                .append(number(width))
                .append(' ')
                .append(number(height))
                .append("\">\n");
        return this;
    }

    /** Ends a window. */
    Drawing close() {
        svg.append("</svg>\n");
        return this;
    }

    Drawing line(double x1, double y1, double x2, double y2, Pen pen) {
        svg.append("<path d=\"M ").append(number(x1)).append(' ').append(number(y1));
        svg.append(" L ").append(number(x2)).append(' ').append(number(y2)).append('"');
        svg.append(pen.attributes()).append("/>\n");
        return this;
    }

    /** Draws a path of M, L and Z in absolute places. */
    Drawing path(String path, String fill, Pen pen) {
        if (!path.isEmpty()) {
            svg.append("<path d=\"").append(path).append('"').append(filled(fill));
            svg.append(pen.attributes()).append("/>\n");
        }
        return this;
    }

    Drawing rectangle(double x, double y, double width, double height, String fill, Pen pen) {
        svg.append("<rect x=\"").append(number(x)).append("\" y=\"").append(number(y));
        svg.append("\" width=\"")
                .append(number(width))
                .append("\" height=\"")
                .append(number(height))
                .append('"');
        svg.append(filled(fill)).append(pen.attributes()).append("/>\n");
        return this;
    }

    Drawing circle(double x, double y, double radius, String fill, Pen pen) {
        svg.append("<circle cx=\"").append(number(x)).append("\" cy=\"").append(number(y));
        svg.append("\" r=\"").append(number(radius)).append('"');
        svg.append(filled(fill)).append(pen.attributes()).append("/>\n");
        return this;
    }

    Drawing words(double x, double y, Anchor anchor, double size, String colour, String words) {
        return words(x, y, anchor, size, colour, false, words);
    }

    Drawing boldWords(double x, double y, Anchor anchor, double size, String colour, String words) {
        return words(x, y, anchor, size, colour, true, words);
    }

    private Drawing words(double x, double y, Anchor anchor, double size, String colour, boolean bold, String words) {
        svg.append("<text x=\"")
                .append(number(x))
                .append("\" y=\"")
                .append(number(y))
                .append('"');
        if (anchor != Anchor.START) {
            svg.append(" text-anchor=\"").append(anchor.word).append('"');
        }
        svg.append(" font-size=\"")
                .append(number(size))
                .append("\" fill=\"")
                .append(colour)
                .append('"');
        if (bold) {
            svg.append(" font-weight=\"bold\"");
        }
        svg.append('>').append(escaped(words)).append("</text>\n");
        return this;
    }

    /** Draws words on a white ground, so that they can be read over lines. The ground is as wide as words can be. */
    Drawing label(double x, double y, Anchor anchor, double size, String colour, String words) {
        double width = widthOf(words, size) + 4;
        double left = anchor == Anchor.START ? x - 2 : anchor == Anchor.END ? x - width + 2 : x - width / 2;
        rectangle(left, y - 0.86 * size, width, 1.16 * size, "#ffffff", Pen.NONE);
        return boldWords(x, y, anchor, size, colour, words);
    }

    /** About how wide words are, px: the mean of Liberation Sans, a little on the wide side. */
    static double widthOf(String words, double size) {
        double width = 0;
        for (int i = 0; i < words.length(); i++) {
            char c = words.charAt(i);
            width += "il.,:;|/'! ".indexOf(c) >= 0 ? 0.3 : "mwMW".indexOf(c) >= 0 ? 0.86 : 0.58;
        }
        return width * size;
    }

    /** Draws an arrow head with its tip at a place, pointing along (dx, dy). */
    Drawing arrowHead(double x, double y, double dx, double dy, double size, String colour) {
        double length = Math.hypot(dx, dy);
        if (!(length > 0)) {
            return this;
        }
        double ux = dx / length * size;
        double uy = dy / length * size;
        return path(
                "M " + number(x) + ' ' + number(y) + " L " + number(x - ux - 0.36 * uy) + ' '
                        + number(y - uy + 0.36 * ux) + " L " + number(x - ux + 0.36 * uy) + ' '
                        + number(y - uy - 0.36 * ux) + " Z",
                colour,
                Pen.NONE);
    }

    /** Returns a path through places given as x, y, x, y, ... */
    static String through(List<Double> places, boolean closed) {
        StringBuilder path = new StringBuilder();
        for (int i = 0; i + 1 < places.size(); i += 2) {
            path.append(i == 0 ? "M " : " L ")
                    .append(number(places.get(i)))
                    .append(' ')
                    .append(number(places.get(i + 1)));
        }
        return path.append(closed && !path.isEmpty() ? " Z" : "").toString();
    }

    private static String filled(String fill) {
        return fill.equals("none") ? "" : " fill=\"" + fill + "\"";
    }

    /** Returns a number as it stands in a picture: to a hundredth of a pixel. */
    static String number(double value) {
        return TravelUnits.shortest(value, PLACES);
    }

    /** Returns words with what XML would take for markup, or does not allow, made harmless. */
    static String escaped(String words) {
        StringBuilder text = new StringBuilder(words.length() + 8);
        words.codePoints().forEach(c -> {
            switch (c) {
                case '&' -> text.append("&amp;");
                case '<' -> text.append("&lt;");
                case '>' -> text.append("&gt;");
                case '"' -> text.append("&quot;");
                case '\'' -> text.append("&#39;");
                default -> text.appendCodePoint(allowed(c) ? c : 0xFFFD);
            }
        });
        return text.toString();
    }

    /** Whether XML 1.0 allows a character at all. */
    private static boolean allowed(int c) {
        return c == '\t'
                || c == '\n'
                || c == '\r'
                || (c >= 0x20 && c <= 0xD7FF)
                || (c >= 0xE000 && c <= 0xFFFD)
                || c >= 0x10000;
    }

    /** Returns the finished picture, on lines of its own. */
    String finished() {
        return svg + "</svg>\n";
    }
}
