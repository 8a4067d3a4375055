package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import daylight.motion.Curve;
import daylight.motion.Quantity;
import daylight.motion.RealRange;
import daylight.motion.TravelEnd;
import daylight.motion.TravelReport;
import daylight.motion.TravelTable;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.util.OptionalDouble;

/**
 * Travel as JSON. Lengths in mm, angles in degrees, slopes in degrees per mm; numbers are rounded so that the same car
 * gives the same bytes everywhere. Each curve says its definition and sign.
 */
public final class TravelJson {
    private static final int PLACES = 6;

    private TravelJson() {}

    /** Returns the report as JSON text with a line feed at its end. */
    public static String of(TravelReport report) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartObject();
            json.writeStringField("car", report.car());
            json.writeStringField("lengths", "mm");
            json.writeStringField("angles", "deg");
            number(json, "wheelbase", report.wheelbaseMm());
            json.writeBooleanField("binds", report.binds());
            json.writeArrayFieldStart("wheels");
            for (TravelReport.WheelBasis wheel : report.wheels()) {
                json.writeStartObject();
                json.writeStringField("wheel", wheel.wheel());
                number(json, "loaded radius", OptionalDouble.of(wheel.loadedRadiusMm()));
                json.writeStringField("because", wheel.because());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("ranges");
            for (RealRange range : report.ranges()) {
                range(json, range);
            }
            json.writeEndArray();
            json.writeArrayFieldStart("tables");
            for (TravelTable table : report.tables()) {
                table(json, table);
            }
            json.writeEndArray();
            json.writeArrayFieldStart("cautions");
            for (String caution : report.cautions()) {
                json.writeString(caution);
            }
            json.writeEndArray();
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void range(JsonGenerator json, RealRange range) throws IOException {
        json.writeStartObject();
        json.writeStringField("movement", range.movement());
        json.writeStringField("unit", range.turns() ? "deg" : "mm");
        double scale = range.turns() ? 180 / Math.PI : 1;
        number(json, "stated lowest", OptionalDouble.of(scale * range.stated().lowest()));
        number(json, "stated highest", OptionalDouble.of(scale * range.stated().highest()));
        number(json, "lowest", OptionalDouble.of(scale * range.lowest()));
        json.writeStringField("lowest because", cause(range.down()));
        number(json, "highest", OptionalDouble.of(scale * range.highest()));
        json.writeStringField("highest because", cause(range.up()));
        json.writeEndObject();
    }

    private static String cause(TravelEnd end) {
        return end.cause().words();
    }

    private static void table(JsonGenerator json, TravelTable table) throws IOException {
        json.writeStartObject();
        json.writeStringField("of", table.subject());
        json.writeStringField("movement", table.movement());
        json.writeObjectFieldStart("along");
        curve(json, table.along());
        json.writeEndObject();
        json.writeArrayFieldStart("curves");
        for (Curve curve : table.curves()) {
            json.writeStartObject();
            curve(json, curve);
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void curve(JsonGenerator json, Curve curve) throws IOException {
        json.writeStringField("name", curve.name());
        json.writeStringField("meaning", curve.meaning());
        json.writeStringField("unit", unit(curve.quantity()));
        json.writeArrayFieldStart("values");
        for (OptionalDouble value : curve.values()) {
            if (value.isPresent()) {
                json.writeNumber(new BigDecimal(TravelUnits.decimal(value.getAsDouble(), PLACES)));
            } else {
                json.writeNull();
            }
        }
        json.writeEndArray();
    }

    private static String unit(Quantity quantity) {
        return switch (quantity) {
            case LENGTH -> "mm";
            case ANGLE -> "deg";
            case ANGLE_PER_LENGTH -> "deg/mm";
            case RATIO -> "1";
            case PERCENT -> "%";
        };
    }

    private static void number(JsonGenerator json, String name, OptionalDouble value) throws IOException {
        if (value.isPresent()) {
            json.writeNumberField(name, new BigDecimal(TravelUnits.decimal(value.getAsDouble(), PLACES)));
        } else {
            json.writeNullField(name);
        }
    }
}
