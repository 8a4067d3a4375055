package daylight.report;

import java.util.List;
import java.util.Locale;

/** A template as SVG, a picture a sheet, at full size (1 unit is 1 mm). The same template gives the same bytes. */
public final class TemplateSvg {
    /** The letters' size of type for capitals of a given height. */
    private static final double TYPE = 1 / 0.72;

    private TemplateSvg() {}

    /** Returns the sheets in order. */
    public static List<String> of(Template template) {
        return template.sheets().stream().map(sheet -> sheet(template, sheet)).toList();
    }

    private static String sheet(Template template, Template.Sheet sheet) {
        StringBuilder svg = new StringBuilder();
        String wide = number(template.paper().widthMm());
        String high = number(template.paper().heightMm());
        svg.append("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"")
                .append(wide)
                .append("mm\" height=\"")
                .append(high)
                .append("mm\" viewBox=\"0 0 ")
                .append(wide)
                .append(' ')
                .append(high)
                .append("\">\n<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n");
        for (Template.Mark mark : sheet.marks()) {
            mark(svg, mark);
        }
        return svg.append("</svg>\n").toString();
    }

    private static void mark(StringBuilder svg, Template.Mark mark) {
        if (mark instanceof Template.Mark.Line line) {
            svg.append("<line x1=\"")
                    .append(number(line.x1()))
                    .append("\" y1=\"")
                    .append(number(line.y1()))
                    .append("\" x2=\"")
                    .append(number(line.x2()))
                    .append("\" y2=\"")
                    .append(number(line.y2()))
                    .append('"')
                    .append(pen(line.pen()))
                    .append("/>\n");
        } else if (mark instanceof Template.Mark.Ring ring) {
            svg.append("<circle cx=\"")
                    .append(number(ring.x()))
                    .append("\" cy=\"")
                    .append(number(ring.y()))
                    .append("\" r=\"")
                    .append(number(ring.radiusMm()))
                    .append("\" fill=\"none\"")
                    .append(pen(ring.pen()))
                    .append("/>\n");
        } else if (mark instanceof Template.Mark.Bar bar) {
            svg.append("<rect x=\"")
                    .append(number(bar.x()))
                    .append("\" y=\"")
                    .append(number(bar.y()))
                    .append("\" width=\"")
                    .append(number(bar.wideMm()))
                    .append("\" height=\"")
                    .append(number(bar.highMm()))
                    .append("\" fill=\"#000000\"/>\n");
        } else if (mark instanceof Template.Mark.Words words) {
            svg.append("<text x=\"")
                    .append(number(words.x()))
                    .append("\" y=\"")
                    .append(number(words.y()))
                    .append("\" font-family=\"Helvetica, Arial, sans-serif\" font-size=\"")
                    .append(number(words.highMm() * TYPE))
                    .append("\">")
                    .append(safe(words.text()))
                    .append("</text>\n");
        }
    }

    private static String pen(Template.Pen pen) {
        return String.format(
                Locale.ROOT,
                " stroke=\"#%02x%02x%02x\" stroke-width=\"%s\"%s",
                pen.red(),
                pen.green(),
                pen.blue(),
                number(pen.wideMm()),
                pen.dashed() ? " stroke-dasharray=\"2 1.5\"" : "");
    }

    private static String number(double mm) {
        String text = String.format(Locale.ROOT, "%.3f", mm);
        return text.equals("-0.000") ? "0.000" : text;
    }

    private static String safe(String text) {
        return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
    }
}
