package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import daylight.clearance.GapRow;
import daylight.clearance.Least;
import daylight.hose.HoseReport;
import daylight.trim.TrialRow;
import daylight.trim.TrialTable;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Optional;

/** A trial beside the car as it is, as JSON: every pair, mm. The same input gives the same bytes. */
public final class TrialJson {
    private static final int PLACES = 4;

    private TrialJson() {}

    /** Returns the table as JSON text with a line feed at its end. */
    public static String of(TrialTable table) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        printer.indentArraysWith(new DefaultIndenter("  ", "\n"));
        LengthFormat format = LengthFormat.decimals(Unit.MILLIMETRE, 2);
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartObject();
            json.writeStringField("car", table.after().car());
            json.writeStringField("trial", table.trial().name());
            json.writeStringField("lengths", "mm");
            json.writeArrayFieldStart("changes");
            for (String line : ChangeText.of(table.trial(), format)) {
                json.writeString(line);
            }
            json.writeEndArray();
            json.writeStringField("state before", table.before().worst().word());
            json.writeStringField("state", table.after().worst().word());
            json.writeArrayFieldStart("pairs");
            for (TrialRow row : table.rows()) {
                json.writeStartObject();
                json.writeStringField("first", row.first());
                json.writeStringField("second", row.second());
                json.writeStringField("turn", row.turn(table.knownToMm()).word());
                gap(json, "before", row.before());
                gap(json, "after", row.after());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("hoses");
            for (TrialTable.HoseTurn hose : table.hoses()) {
                json.writeStartObject();
                json.writeStringField("hose", hose.after().hose().name());
                line(json, "before", hose.before());
                line(json, "after", hose.after());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void gap(JsonGenerator json, String name, Optional<GapRow> row) throws IOException {
        if (row.isEmpty()) {
            json.writeNullField(name);
            return;
        }
        json.writeObjectFieldStart(name);
        json.writeStringField("state", row.get().state().word());
        number(json, "least gap", row.get().least().found().distanceMm());
        if (Double.isFinite(row.get().least().floorMm())) {
            json.writeNumberField(
                    "floor", new BigDecimal(row.get().least().floorMm()).setScale(PLACES, RoundingMode.FLOOR));
        } else {
            json.writeNullField("floor");
        }
        number(json, "required", row.get().requiredMm());
        number(json, "margin", row.get().marginMm());
        Least.Proof proof = row.get().least().proof();
        json.writeStringField(
                "proof",
                proof instanceof Least.Proof.Unproved
                        ? "unproved"
                        : proof instanceof Least.Proof.FarApart ? "far apart" : "proved");
        json.writeEndObject();
    }

    private static void line(JsonGenerator json, String name, HoseReport report) throws IOException {
        json.writeObjectFieldStart(name);
        number(json, "free length", report.hose().freeLengthMm());
        json.writeStringField("verdict", report.verdict());
        number(json, "least slack", report.slack().floorMm());
        json.writeEndObject();
    }

    private static void number(JsonGenerator json, String name, double value) throws IOException {
        BigDecimal rounded = new BigDecimal(value).setScale(PLACES, RoundingMode.HALF_EVEN);
        json.writeNumberField(name, rounded.signum() == 0 ? rounded.abs() : rounded);
    }
}
