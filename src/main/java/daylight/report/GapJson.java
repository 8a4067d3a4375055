package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import daylight.clearance.GapCheck;
import daylight.clearance.GapDoubts;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.clearance.LeftOut;
import daylight.clearance.Onset;
import daylight.clearance.Position;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.motion.EarlierEnd;
import daylight.motion.Setting;
import daylight.survey.GapDoubt;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;

/**
 * The table of gaps as JSON. Lengths in mm, angles in degrees, spots in the car frame (x forward, y left, z up);
 * numbers are rounded so that the same car gives the same bytes everywhere.
 */
public final class GapJson {
    /** Gaps and spots: a tenth of a micrometre. */
    private static final int LENGTH_PLACES = 4;
    /** Handle values: enough to stand the car there again. */
    private static final int HANDLE_PLACES = 6;

    private static final int DIRECTION_PLACES = 8;
    /** Readings listed with their share of a gap's variance. */
    private static final int MOST_SHARES = 10;

    private GapJson() {}

    /** Returns the table as JSON text with a line feed at its end. */
    public static String of(GapTable table) {
        return of(table, Optional.empty());
    }

    /** Returns the table with how sure each gap is, where that is known, as JSON text with a line feed at its end. */
    public static String of(GapTable table, Optional<GapDoubts> doubts) {
        return of(table, doubts, List.of());
    }

    /**
     * Returns the table as JSON text with a line feed at its end.
     *
     * @param measured gaps measured on the car against those computed; where there are none nothing is said of them
     */
    public static String of(GapTable table, Optional<GapDoubts> doubts, List<GapCheck> measured) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        printer.indentArraysWith(new DefaultIndenter("  ", "\n"));
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartObject();
            json.writeStringField("car", table.car());
            json.writeStringField("lengths", "mm");
            json.writeStringField("angles", "deg");
            json.writeStringField("state", table.worst().word());
            number(json, "tolerance", table.toleranceMm(), LENGTH_PLACES);
            number(json, "watch", table.watchMm(), LENGTH_PLACES);
            json.writeNumberField("parts", table.work().parts());
            json.writeArrayFieldStart("searched to");
            for (EarlierEnd end : table.earlierEnds()) {
                json.writeStartObject();
                json.writeStringField("handle", end.handle());
                number(json, "to", end.turns() ? Math.toDegrees(end.searched()) : end.searched(), HANDLE_PLACES);
                number(json, "stated", end.turns() ? Math.toDegrees(end.stated()) : end.stated(), HANDLE_PLACES);
                json.writeStringField("limit", end.by().limit());
                json.writeStringField("at its end", end.by().state());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("pairs");
            for (GapRow row : table.rows()) {
                row(json, row, doubts.flatMap(d -> d.of(row.first(), row.second())));
            }
            json.writeEndArray();
            if (!measured.isEmpty()) {
                MeasureJson.gaps(json, measured);
            }
            json.writeArrayFieldStart("left out");
            for (LeftOut leftOut : table.leftOut()) {
                json.writeStartObject();
                json.writeStringField("first", leftOut.first());
                json.writeStringField("second", leftOut.second());
                json.writeStringField("because", leftOut.reason());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void row(JsonGenerator json, GapRow row, Optional<GapDoubts.Row> doubt) throws IOException {
        json.writeStartObject();
        json.writeStringField("first", row.first());
        json.writeStringField("second", row.second());
        json.writeStringField("state", row.state().word());
        number(json, "gap at ride height", row.atRideHeight().distanceMm(), LENGTH_PLACES);
        number(json, "least gap", row.least().found().distanceMm(), LENGTH_PLACES);
        floor(json, row.least());
        number(json, "required", row.requiredMm(), LENGTH_PLACES);
        number(json, "margin", row.marginMm(), LENGTH_PLACES);
        json.writeStringField("rule", row.rule());
        spot(json, "on first", row.least().found().onA());
        spot(json, "on second", row.least().found().onB());
        direction(json, "direction", row.least().found().normal());
        position(json, "at", row.least().where());
        onset(json, "touches", row.touches());
        onset(json, "below rule", row.belowRule());
        json.writeArrayFieldStart("tight spots");
        for (Least spot : row.tightSpots()) {
            json.writeStartObject();
            number(json, "least gap", spot.found().distanceMm(), LENGTH_PLACES);
            floor(json, spot);
            spot(json, "on first", spot.found().onA());
            spot(json, "on second", spot.found().onB());
            position(json, "at", spot.where());
            json.writeEndObject();
        }
        json.writeEndArray();
        if (doubt.isPresent()) {
            doubt(json, doubt.get());
        }
        json.writeEndObject();
    }

    private static void doubt(JsonGenerator json, GapDoubts.Row row) throws IOException {
        json.writeObjectFieldStart("doubt");
        number(json, "standard uncertainty", row.doubt().standardUncertaintyMm(), LENGTH_PLACES);
        number(json, "low 95 per cent", row.doubt().low95Mm(), LENGTH_PLACES);
        number(json, "high 95 per cent", row.doubt().high95Mm(), LENGTH_PLACES);
        number(json, "chance of touching", row.doubt().chanceOfTouching(), LENGTH_PLACES);
        json.writeArrayFieldStart("shares");
        for (GapDoubt.Share share : row.doubt()
                .shares()
                .subList(0, Math.min(MOST_SHARES, row.doubt().shares().size()))) {
            json.writeStartObject();
            json.writeStringField("of", SurveyWords.label(share.reading(), share.part()));
            number(json, "share", share.share(), LENGTH_PLACES);
            json.writeEndObject();
        }
        json.writeEndArray();
        if (row.sharper().isPresent()) {
            json.writeObjectFieldStart("sharper");
            json.writeStringField("measure again", row.sharper().get().what());
            number(json, "within", row.sharper().get().withinMm(), LENGTH_PLACES);
            number(json, "half width before", row.sharper().get().before95Mm(), LENGTH_PLACES);
            number(json, "half width after", row.sharper().get().after95Mm(), LENGTH_PLACES);
            json.writeEndObject();
        }
        json.writeEndObject();
    }

    private static void floor(JsonGenerator json, Least least) throws IOException {
        if (Double.isFinite(least.floorMm())) {
            BigDecimal floor = new BigDecimal(least.floorMm()).setScale(LENGTH_PLACES, RoundingMode.FLOOR);
            json.writeNumberField("floor", floor);
        } else {
            json.writeNullField("floor");
        }
        String word = least.proof() instanceof Least.Proof.Unproved
                ? "unproved"
                : least.proof() instanceof Least.Proof.FarApart ? "far apart" : "proved";
        json.writeStringField("proof", word);
        if (least.proof() instanceof Least.Proof.Unproved unproved) {
            json.writeStringField("why", unproved.why());
        }
    }

    private static void onset(JsonGenerator json, String name, Optional<Onset> onset) throws IOException {
        if (onset.isEmpty()) {
            json.writeNullField(name);
            return;
        }
        json.writeObjectFieldStart(name);
        position(json, "at", onset.get().at());
        number(json, "share of travel", onset.get().share(), LENGTH_PLACES);
        number(json, "clear up to", onset.get().clearUpTo(), LENGTH_PLACES);
        json.writeEndObject();
    }

    private static void position(JsonGenerator json, String name, Position position) throws IOException {
        json.writeObjectFieldStart(name);
        json.writeObjectFieldStart("handles");
        for (Setting setting : position.handles()) {
            double value = setting.turns() ? Math.toDegrees(setting.value()) : setting.value();
            number(json, setting.name(), value, HANDLE_PLACES);
        }
        json.writeEndObject();
        json.writeObjectFieldStart("shifts");
        for (Setting setting : position.shifts()) {
            number(json, setting.name(), setting.value(), HANDLE_PLACES);
        }
        json.writeEndObject();
        json.writeEndObject();
    }

    private static void spot(JsonGenerator json, String name, Spot spot) throws IOException {
        triple(json, name, spot.x(), spot.y(), spot.z(), LENGTH_PLACES);
    }

    private static void direction(JsonGenerator json, String name, Direction direction) throws IOException {
        triple(json, name, direction.x(), direction.y(), direction.z(), DIRECTION_PLACES);
    }

    private static void triple(JsonGenerator json, String name, double x, double y, double z, int places)
            throws IOException {
        json.writeArrayFieldStart(name);
        json.writeNumber(rounded(x, places));
        json.writeNumber(rounded(y, places));
        json.writeNumber(rounded(z, places));
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
