package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import daylight.clearance.Position;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.hose.HoseReport;
import daylight.motion.Setting;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;

/** The flexible lines of a car as JSON: lengths in mm, angles in degrees, spots in the car frame. */
public final class HoseJson {
    /** Sampled quantities are good to far less than this; it keeps the bytes the same everywhere. */
    private static final int PLACES = 3;

    private static final int HANDLE_PLACES = 6;

    private HoseJson() {}

    /** Returns the reports as JSON text with a line feed at its end. */
    public static String of(String car, List<HoseReport> reports) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        printer.indentArraysWith(new DefaultIndenter("  ", "\n"));
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartObject();
            json.writeStringField("car", car);
            json.writeStringField("lengths", "mm");
            json.writeStringField("angles", "deg");
            json.writeArrayFieldStart("hoses");
            for (HoseReport report : reports) {
                hose(json, report);
            }
            json.writeEndArray();
            json.writeArrayFieldStart("cautions");
            for (String caution : HoseText.cautions()) {
                json.writeString(caution);
            }
            json.writeEndArray();
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void hose(JsonGenerator json, HoseReport report) throws IOException {
        json.writeStartObject();
        json.writeStringField("name", report.hose().name());
        json.writeStringField("verdict", report.verdict());
        troubles(json, report.troubles());
        number(json, "free length", report.hose().freeLengthMm());
        json.writeObjectFieldStart("slack");
        number(json, "at ride height", report.slack().rideMm());
        number(json, "least", report.slack().leastMm());
        if (Double.isFinite(report.slack().floorMm())) {
            json.writeNumberField(
                    "floor", new BigDecimal(report.slack().floorMm()).setScale(PLACES, RoundingMode.FLOOR));
        } else {
            json.writeNullField("floor");
        }
        json.writeStringField("proof", report.slack().unproved().isEmpty() ? "proved" : "unproved");
        if (!report.slack().unproved().isEmpty()) {
            json.writeStringField("why", report.slack().unproved());
        }
        position(json, report.slack().where());
        json.writeEndObject();
        json.writeObjectFieldStart("bend");
        radius(json, "radius at ride height", report.bend().rideRadiusMm());
        radius(json, "tightest radius", report.bend().tightestRadiusMm());
        number(json, "least allowed", report.bend().limitMm());
        number(json, "along the hose", report.bend().atMm());
        json.writeStringField("proof", "unproved (sampled)");
        position(json, report.bend().where());
        json.writeEndObject();
        json.writeObjectFieldStart("twist");
        number(json, "greatest", Math.toDegrees(report.twist().greatestRad()));
        if (report.twist().limitRad().isPresent()) {
            number(json, "allowed", Math.toDegrees(report.twist().limitRad().get()));
        } else {
            json.writeNullField("allowed");
        }
        json.writeStringField("proof", "unproved (sampled)");
        position(json, report.twist().where());
        json.writeEndObject();
        json.writeArrayFieldStart("gaps");
        for (HoseReport.Touch touch : report.touches()) {
            touch(json, touch);
        }
        json.writeEndArray();
        json.writeObjectFieldStart("sampled");
        json.writeNumberField("positions", report.sampling().positions());
        json.writeNumberField("not reached", report.sampling().notReached());
        number(json, "ends apart at most", report.sampling().stepMm());
        json.writeEndObject();
        json.writeArrayFieldStart("snaps");
        for (HoseReport.Jump jump : report.jumps()) {
            json.writeStartObject();
            number(json, "moves", jump.movesMm());
            position(json, jump.where());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeBooleanField("may lie on either side", report.eitherSide());
        json.writeArrayFieldStart("stock lengths");
        for (HoseReport.Stock stock : report.stock()) {
            stock(json, stock);
        }
        json.writeEndArray();
        if (report.shortestThatPasses().isPresent()) {
            number(json, "length to buy", report.shortestThatPasses().get().lengthMm());
        } else {
            json.writeNullField("length to buy");
        }
        if (report.turned().isPresent()) {
            json.writeObjectFieldStart("better set");
            HoseReport.Turned turned = report.turned().get();
            number(json, "from turned by", Math.toDegrees(turned.fromRad()));
            direction(json, "from leaves", turned.fromLeaves());
            number(json, "to turned by", Math.toDegrees(turned.toRad()));
            direction(json, "to leaves", turned.toLeaves());
            json.writeFieldName("then");
            stock(json, turned.result());
            json.writeEndObject();
        }
        json.writeEndObject();
    }

    private static void stock(JsonGenerator json, HoseReport.Stock stock) throws IOException {
        json.writeStartObject();
        number(json, "free length", stock.lengthMm());
        json.writeBooleanField("passes", stock.troubles().isEmpty());
        troubles(json, stock.troubles());
        if (Double.isFinite(stock.slackFloorMm())) {
            number(json, "slack", stock.slackFloorMm());
        } else {
            json.writeNullField("slack");
        }
        radius(json, "tightest radius", stock.tightestRadiusMm());
        number(json, "twist", Math.toDegrees(stock.twistRad()));
        if (stock.nearest().isPresent()) {
            json.writeFieldName("nearest");
            touch(json, stock.nearest().get());
        }
        json.writeEndObject();
    }

    private static void touch(JsonGenerator json, HoseReport.Touch touch) throws IOException {
        json.writeStartObject();
        json.writeStringField("part", touch.part());
        json.writeStringField("state", touch.state().word());
        number(json, "least gap", touch.gapMm());
        number(json, "required", touch.requiredMm());
        json.writeStringField("rule", touch.rule());
        json.writeStringField("proof", "unproved (sampled)");
        spot(json, "on hose", touch.onHose());
        spot(json, "on part", touch.onPart());
        position(json, touch.where());
        json.writeEndObject();
    }

    private static void troubles(JsonGenerator json, List<HoseReport.Trouble> troubles) throws IOException {
        json.writeArrayFieldStart("troubles");
        for (HoseReport.Trouble trouble : troubles) {
            json.writeString(trouble.word());
        }
        json.writeEndArray();
    }

    private static void position(JsonGenerator json, Position position) throws IOException {
        json.writeObjectFieldStart("at");
        for (Setting setting : position.handles()) {
            double value = setting.turns() ? Math.toDegrees(setting.value()) : setting.value();
            json.writeNumberField(setting.name(), rounded(value, HANDLE_PLACES));
        }
        json.writeEndObject();
        json.writeObjectFieldStart("shifts");
        for (Setting setting : position.shifts()) {
            json.writeNumberField(setting.name(), rounded(setting.value(), HANDLE_PLACES));
        }
        json.writeEndObject();
    }

    private static void direction(JsonGenerator json, String name, Direction direction) throws IOException {
        json.writeArrayFieldStart(name);
        json.writeNumber(rounded(direction.x(), HANDLE_PLACES));
        json.writeNumber(rounded(direction.y(), HANDLE_PLACES));
        json.writeNumber(rounded(direction.z(), HANDLE_PLACES));
        json.writeEndArray();
    }

    private static void spot(JsonGenerator json, String name, Spot spot) throws IOException {
        json.writeArrayFieldStart(name);
        json.writeNumber(rounded(spot.x(), PLACES));
        json.writeNumber(rounded(spot.y(), PLACES));
        json.writeNumber(rounded(spot.z(), PLACES));
        json.writeEndArray();
    }

    /** A straight line has no radius. */
    private static void radius(JsonGenerator json, String name, double mm) throws IOException {
        if (Double.isInfinite(mm)) {
            json.writeNullField(name);
        } else {
            number(json, name, mm);
        }
    }

    private static void number(JsonGenerator json, String name, double value) throws IOException {
        json.writeNumberField(name, rounded(value, PLACES));
    }

    private static BigDecimal rounded(double value, int places) {
        BigDecimal rounded = new BigDecimal(value).setScale(places, RoundingMode.HALF_EVEN);
        return rounded.signum() == 0 ? rounded.abs() : rounded;
    }
}
