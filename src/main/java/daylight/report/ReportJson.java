package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.Optional;

/**
 * A report as JSON: what its first page says, then the same objects that {@code gaps}, {@code travel} and {@code hose}
 * write. Lengths in mm, angles in degrees.
 */
public final class ReportJson {
    private ReportJson() {}

    /** Returns the report as JSON text with a line feed at its end. */
    public static String of(Report report) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        printer.indentArraysWith(new DefaultIndenter("  ", "\n"));
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartObject();
            json.writeStringField("car", report.car().name());
            said(json, "reference", report.car().reference());
            said(json, "date", report.date());
            said(json, "datum", report.car().datum());
            said(json, "measured by", report.car().about().measuredBy());
            json.writeBooleanField("invented", report.car().about().invented());
            json.writeStringField("verdict", ReportWords.verdict(report));
            json.writeStringField("file", report.source().file());
            json.writeStringField("sha256", report.source().sha256());
            json.writeStringField("version", report.source().version());
            inside(json, "gaps", GapJson.of(report.gaps(), report.doubts(), report.measuredGaps()));
            if (report.travel().isPresent()) {
                inside(json, "travel", TravelJson.of(report.travel().get()));
            }
            if (!report.hoses().isEmpty()) {
                inside(json, "lines", HoseJson.of(report.car().name(), report.hoses()));
            }
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void said(JsonGenerator json, String name, Optional<String> value) throws IOException {
        if (value.isPresent()) {
            json.writeStringField(name, value.get());
        } else {
            json.writeNullField(name);
        }
    }

    /** Writes a whole text of JSON as a member: no string in it holds a line feed, so that it can be moved in. */
    private static void inside(JsonGenerator json, String name, String whole) throws IOException {
        json.writeFieldName(name);
        json.writeRawValue(whole.stripTrailing().replace("\n", "\n  "));
    }
}
