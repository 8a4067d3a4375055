package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import daylight.car.Layout;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** The layouts that come with the program: what they are for and what to measure. */
public final class LayoutText {
    private LayoutText() {}

    /** Returns a line per layout: name, title, number of points. */
    public static String list(List<Layout> layouts) {
        int name = layouts.stream().mapToInt(l -> l.name().length()).max().orElse(0);
        StringBuilder text = new StringBuilder();
        for (Layout layout : layouts) {
            text.append(layout.name())
                    .append(" ".repeat(name - layout.name().length() + 2))
                    .append(layout.title())
                    .append(" (")
                    .append(layout.points().size())
                    .append(" points)\n");
        }
        text.append(
                "\ndaylight layouts NAME says what to measure; daylight new NAME writes a car file to begin with.\n");
        return text.toString();
    }

    /** Returns what to measure for each layout. */
    public static String measure(List<Layout> layouts) {
        StringBuilder text = new StringBuilder();
        for (Layout layout : layouts) {
            text.append(text.length() == 0 ? "" : "\n")
                    .append(layout.name())
                    .append(": ")
                    .append(layout.title())
                    .append('\n')
                    .append(layout.note())
                    .append("\nMeasure, at ride height:\n");
            int width = layout.points().stream()
                    .mapToInt(point -> point.name().length())
                    .max()
                    .orElse(0);
            layout.points()
                    .forEach(point -> text.append("  ")
                            .append(point.name())
                            .append(" ".repeat(width - point.name().length() + 2))
                            .append(point.optional() ? "(may be left out) " : "")
                            .append(point.measure())
                            .append('\n'));
            if (!layout.limits().isEmpty()) {
                text.append("And how far it goes: ")
                        .append(String.join(", ", layout.limits().keySet()))
                        .append(".\n");
            }
            if (!layout.optionalLimits().isEmpty()) {
                text.append("If known: ")
                        .append(String.join(", ", layout.optionalLimits()))
                        .append(".\n");
            }
            if (!layout.carriers().isEmpty()) {
                text.append("It hangs on: ")
                        .append(String.join(", ", layout.carriers()))
                        .append(".\n");
            }
        }
        return text.toString();
    }

    /** Returns the points of all layouts as CSV text (RFC 4180), one row a point. */
    public static String csv(List<Layout> layouts) {
        StringWriter text = new StringWriter();
        try (CSVPrinter csv = new CSVPrinter(text, CSVFormat.RFC4180)) {
            csv.printRecord("layout", "title", "point", "may be left out", "how to measure");
            for (Layout layout : layouts) {
                for (Layout.MeasuredPoint point : layout.points()) {
                    csv.printRecord(
                            layout.name(),
                            layout.title(),
                            point.name(),
                            point.optional() ? "yes" : "no",
                            point.measure());
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }

    /** Returns the layouts as JSON text. */
    public static String json(List<Layout> layouts) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartArray();
            for (Layout layout : layouts) {
                json.writeStartObject();
                json.writeStringField("layout", layout.name());
                json.writeStringField("title", layout.title());
                json.writeStringField("note", layout.note());
                json.writeBooleanField("mirrors", layout.mirrors());
                json.writeArrayFieldStart("points");
                for (Layout.MeasuredPoint point : layout.points()) {
                    json.writeStartObject();
                    json.writeStringField("point", point.name());
                    json.writeStringField("measure", point.measure());
                    json.writeBooleanField("optional", point.optional());
                    json.writeEndObject();
                }
                json.writeEndArray();
                texts(json, "limits", new ArrayList<>(layout.limits().keySet()));
                texts(json, "optional limits", layout.optionalLimits());
                texts(json, "carriers", layout.carriers());
                json.writeObjectFieldStart("angles");
                for (Map.Entry<String, Boolean> limit : layout.limits().entrySet()) {
                    json.writeBooleanField(limit.getKey(), limit.getValue());
                }
                json.writeEndObject();
                json.writeEndObject();
            }
            json.writeEndArray();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void texts(JsonGenerator json, String name, List<String> words) throws IOException {
        json.writeArrayFieldStart(name);
        for (String word : words) {
            json.writeString(word);
        }
        json.writeEndArray();
    }
}
