package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import daylight.car.RuleList;
import daylight.geometry.Spot;
import daylight.inspection.InspectionReport;
import daylight.inspection.InspectionReport.Amount;
import daylight.inspection.InspectionReport.Below;
import daylight.inspection.InspectionReport.Corner;
import daylight.inspection.InspectionReport.Finding;
import daylight.inspection.InspectionReport.Lock;
import daylight.inspection.InspectionReport.LockAngle;
import daylight.inspection.InspectionReport.Place;
import daylight.inspection.InspectionReport.Stance;
import daylight.inspection.InspectionReport.TravelLow;
import daylight.motion.Setting;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;

/**
 * An inspection as JSON. Lengths in mm, angles in degrees, spots in the car frame (x forward, y left, z up); numbers are
 * rounded so that the same car gives the same bytes everywhere.
 */
public final class InspectionJson {
    private static final int PLACES = 4;
    private static final int HANDLE_PLACES = 6;

    private InspectionJson() {}

    /** Returns the inspection as JSON text with a line feed at its end. */
    public static String of(InspectionReport report) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        printer.indentArraysWith(new DefaultIndenter("  ", "\n"));
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartObject();
            json.writeStringField("car", report.car());
            json.writeStringField("lengths", "mm");
            json.writeStringField("angles", "deg");
            json.writeStringField("verdict", report.worst().word());
            strings(json, "rule lists", report.lists());
            json.writeArrayFieldStart("findings");
            for (Finding finding : report.findings()) {
                finding(json, finding);
            }
            json.writeEndArray();
            under(json, report.under());
            json.writeArrayFieldStart("travel");
            for (Corner corner : report.corners()) {
                json.writeStartObject();
                json.writeStringField("wheel", corner.wheel());
                number(json, "bump", corner.bumpMm(), PLACES);
                json.writeStringField("bump ends", corner.bumpEnds());
                number(json, "droop", corner.droopMm(), PLACES);
                json.writeStringField("droop ends", corner.droopEnds());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("steering");
            for (Lock lock : report.steering()) {
                lock(json, lock);
            }
            json.writeEndArray();
            strings(json, "cautions", report.cautions());
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void finding(JsonGenerator json, Finding finding) throws IOException {
        json.writeStartObject();
        json.writeStringField("verdict", finding.verdict().word());
        json.writeStringField("station", finding.station().word());
        json.writeStringField("what", finding.what());
        amount(json, "found", finding.found());
        amount(json, "asked", finding.asked());
        json.writeStringField("why", finding.why());
        places(json, "places", finding.places());
        RuleList.Citation rule = finding.rule();
        json.writeObjectFieldStart("rule");
        json.writeStringField("list", rule.list());
        json.writeStringField("source", rule.source());
        json.writeStringField("date", rule.date());
        json.writeStringField("clause", rule.clause());
        json.writeStringField("mark", rule.mark());
        json.writeEndObject();
        json.writeEndObject();
    }

    private static void amount(JsonGenerator json, String name, Optional<Amount> amount) throws IOException {
        if (amount.isEmpty()) {
            json.writeNullField(name);
            return;
        }
        double value = amount.get().kind() == RuleList.Figure.ANGLE
                ? Math.toDegrees(amount.get().value())
                : amount.get().value();
        number(json, name, value, PLACES);
    }

    private static void places(JsonGenerator json, String name, List<Place> places) throws IOException {
        json.writeArrayFieldStart(name);
        for (Place place : places) {
            json.writeStartObject();
            json.writeStringField("part", place.part());
            number(json, "mm", place.mm(), PLACES);
            spot(json, place.at());
            json.writeStringField("when", place.when().isEmpty() ? "ride height" : place.when());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void under(JsonGenerator json, InspectionReport.Under under) throws IOException {
        json.writeArrayFieldStart("stances");
        for (Stance stance : under.stances()) {
            json.writeStartObject();
            json.writeStringField("name", stance.name());
            places(json, "heights", stance.lowest());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("over travel");
        for (TravelLow low : under.overTravel()) {
            json.writeStartObject();
            json.writeStringField("part", low.part());
            number(json, "least height", low.foundMm(), PLACES);
            if (Double.isFinite(low.floorMm())) {
                json.writeNumberField("floor", new BigDecimal(low.floorMm()).setScale(PLACES, RoundingMode.FLOOR));
            } else {
                json.writeNullField("floor");
            }
            json.writeBooleanField("proved", low.proved());
            spot(json, low.at());
            json.writeObjectFieldStart("handles");
            for (Setting setting : low.where().handles()) {
                double value = setting.turns() ? Math.toDegrees(setting.value()) : setting.value();
                number(json, setting.name(), value, HANDLE_PLACES);
            }
            json.writeEndObject();
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("below the scrub line");
        for (Below below : under.scrub()) {
            json.writeStartObject();
            json.writeStringField("part", below.part());
            number(json, "by", below.byMm(), PLACES);
            spot(json, below.at());
            json.writeStringField("string", below.string());
            number(json, "string height", below.stringHeightMm(), PLACES);
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void lock(JsonGenerator json, Lock lock) throws IOException {
        json.writeStartObject();
        json.writeStringField("handle", lock.handle());
        if (lock.turnsLockToLock().isPresent()) {
            number(json, "turns lock to lock", lock.turnsLockToLock().get(), PLACES);
        } else {
            json.writeNullField("turns lock to lock");
        }
        json.writeArrayFieldStart("angles");
        for (LockAngle angle : lock.angles()) {
            json.writeStartObject();
            json.writeStringField("wheel", angle.wheel());
            json.writeStringField("height", angle.height());
            number(json, "left", Math.toDegrees(angle.leftRad()), PLACES);
            number(json, "right", Math.toDegrees(0.0 - angle.rightRad()), PLACES);
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void strings(JsonGenerator json, String name, List<String> strings) throws IOException {
        json.writeArrayFieldStart(name);
        for (String string : strings) {
            json.writeString(string);
        }
        json.writeEndArray();
    }

    private static void spot(JsonGenerator json, Spot spot) throws IOException {
        json.writeArrayFieldStart("at");
        json.writeNumber(rounded(spot.x(), PLACES));
        json.writeNumber(rounded(spot.y(), PLACES));
        json.writeNumber(rounded(spot.z(), PLACES));
        json.writeEndArray();
    }

    private static void number(JsonGenerator json, String name, double value, int places) throws IOException {
        json.writeNumberField(name, rounded(value, places));
    }

    private static BigDecimal rounded(double value, int places) {
        BigDecimal rounded = new BigDecimal(value).setScale(places, RoundingMode.HALF_EVEN);
        return rounded.signum() == 0 ? rounded.abs() : rounded;
    }
}
