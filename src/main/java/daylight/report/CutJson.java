package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import daylight.clearance.GapRow;
import daylight.trim.CutWords;
import daylight.trim.LeastCut;
import daylight.trim.MetalLeft;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Map;

/** The least cut of a plate as JSON, mm. The same input gives the same bytes. */
public final class CutJson {
    private static final int PLACES = 3;

    private CutJson() {}

    /** Returns the least cut as JSON text with a line feed at its end. */
    public static String of(String car, LeastCut cut) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        printer.indentArraysWith(new DefaultIndenter("  ", "\n"));
        LengthFormat format = LengthFormat.decimals(Unit.MILLIMETRE, 2);
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartObject();
            json.writeStringField("car", car);
            json.writeStringField("plate", cut.part());
            json.writeStringField("lengths", "mm");
            gaps(json, "before", cut.part(), cut.before(), cut.doubt95Mm());
            metal(json, cut.metal());
            json.writeArrayFieldStart("cuts");
            for (LeastCut.Option option : cut.options()) {
                json.writeStartObject();
                json.writeStringField("kind", option.kind().word());
                json.writeStringField("exact", CutWords.of(cut.plate(), option.exact(), format));
                json.writeStringField("marked", CutWords.of(cut.plate(), option.marked(), format));
                json.writeStringField("in a car file", CutWords.yaml(cut.plate(), option.marked(), Unit.MILLIMETRE));
                number(json, "area off", option.areaMm2());
                gaps(json, "after", cut.part(), option.gaps(), option.doubt95Mm());
                metal(json, option.metal());
                json.writeEndObject();
            }
            json.writeEndArray();
            if (cut.none().isPresent()) {
                LeastCut.None none = cut.none().get();
                json.writeObjectFieldStart("none");
                json.writeStringField("in the way", none.blocks());
                number(json, "short by", none.shortMm());
                if (none.shift().isPresent()) {
                    json.writeStringField("shift", none.shift().get().way());
                    number(json, "shift by", none.shift().get().byMm());
                }
                json.writeEndObject();
            }
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void gaps(
            JsonGenerator json, String name, String part, List<GapRow> rows, Map<String, Double> doubt95Mm)
            throws IOException {
        json.writeArrayFieldStart(name);
        for (GapRow row : rows) {
            json.writeStartObject();
            json.writeStringField("first", row.first());
            json.writeStringField("second", row.second());
            json.writeStringField("state", row.state().word());
            number(json, "least gap", row.least().found().distanceMm());
            if (Double.isFinite(row.least().floorMm())) {
                json.writeNumberField(
                        "floor", new BigDecimal(row.least().floorMm()).setScale(PLACES, RoundingMode.FLOOR));
            } else {
                json.writeNullField("floor");
            }
            number(json, "required", row.requiredMm());
            Double doubt = doubt95Mm.get(row.first().equals(part) ? row.second() : row.first());
            if (doubt != null) {
                number(json, "half of its 95 % interval", doubt);
            }
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void metal(JsonGenerator json, MetalLeft metal) throws IOException {
        json.writeObjectFieldStart("metal");
        number(json, "area", metal.areaMm2());
        number(json, "net section", metal.netSectionMm2());
        number(json, "second moment", metal.secondMomentMm4());
        number(json, "section modulus", metal.sectionModulusMm3());
        json.writeArrayFieldStart("hole to edge");
        for (double mm : metal.edgeDistancesMm()) {
            json.writeNumber(rounded(mm));
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void number(JsonGenerator json, String name, double value) throws IOException {
        json.writeNumberField(name, rounded(value));
    }

    private static BigDecimal rounded(double value) {
        BigDecimal rounded = new BigDecimal(value).setScale(PLACES, RoundingMode.HALF_EVEN);
        return rounded.signum() == 0 ? rounded.abs() : rounded;
    }
}
