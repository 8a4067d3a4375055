package daylight.car;

import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.units.Length;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What a tyre size means in millimetres, and the shape of a tyre and wheel, from the figures in
 * {@code models/tyres.yaml}.
 */
public final class Tyres {
    private static final String FILE = "/models/tyres.yaml";

    private final Map<Integer, Double> rimDiameters = new HashMap<>();
    private final Map<String, Double> measuringRims = new HashMap<>();
    private final Map<String, Double> measuringRimsOfInchWidths = new HashMap<>();
    private final Map<String, ChainRoom> chainRoom = new HashMap<>();
    private double growth;
    private double ratio;
    private double lowRatio;
    private double lowUpTo;
    private double largestSection;
    private double largestHeight;
    private double flanges;
    private double flangeHeight;
    private double barrel;
    private double disc;
    private double widestFrom;
    private double shoulder;
    private double largestShoulder;

    private Tyres() {}

    /**
     * Room for snow chains.
     *
     * @param treadFaceMm least room over the tread, mm
     * @param sideWallMm least room beside the side wall, mm
     */
    public record ChainRoom(double treadFaceMm, double sideWallMm) {}

    /**
     * A tyre on its wheel.
     *
     * @param size what the side wall says
     * @param rimWidthMm between the bead seats, mm
     * @param offsetMm mounting face from the middle of the rim, mm; positive outboard
     * @param largest whether the shape is the largest tyre that may carry the size, else the design size
     * @param withWheel whether the wheel is part of the shape
     */
    public record Fitment(TyreSize size, double rimWidthMm, double offsetMm, boolean largest, boolean withWheel) {}

    /**
     * Reads the figures that come with the program.
     *
     * @throws IllegalStateException if they are broken
     */
    public static Tyres shipped() {
        String text = Layouts.resource(FILE)
                .orElseThrow(() -> new IllegalStateException(FILE + " is missing. Please report this."));
        try {
            return read("tyres.yaml", text);
        } catch (CarFileException e) {
            throw new IllegalStateException(
                    "a table of the program is broken; please report this: " + e.getMessage(), e);
        }
    }

    /** Reads the figures from text. */
    static Tyres read(String file, String text) throws CarFileException {
        Reading in = new Reading(file);
        YamlNode.Mapping root = YamlText.read(in, text).orElseThrow(() -> new CarFileException(in.complaints()));
        Tyres tyres = new Tyres();
        Fields top = Fields.of(in, root, "the table");
        top.need("tyres", "Write tyres: 1.").ifPresent(node -> in.number(node, "tyres", 1, 1));
        Fields rims = section(top, "rim diameters");
        numbers(rims, "mm", 200, 800).forEach((code, mm) -> tyres.rimDiameters.put(Integer.valueOf(code), mm));
        rims.close();
        Fields width = section(top, "section width");
        tyres.growth = number(width, "growth", 1);
        tyres.ratio = number(width, "ratio", 1);
        tyres.lowRatio = number(width, "low ratio", 1);
        tyres.lowUpTo = number(width, "low up to", 100);
        width.close();
        Fields largest = section(top, "largest tyre");
        tyres.largestSection = number(largest, "section", 2);
        tyres.largestHeight = number(largest, "height", 2);
        largest.close();
        Fields measuring = section(top, "measuring rims");
        numbers(measuring, "in", 2, 20)
                .forEach((size, inches) -> tyres.measuringRims.put(size, inches * Length.MM_PER_INCH));
        measuring.close();
        Fields inchWidths = section(top, "measuring rims of inch widths");
        numbers(inchWidths, "in", 2, 20)
                .forEach((inch, inches) -> tyres.measuringRimsOfInchWidths.put(
                        inchWidth(Double.parseDouble(inch)), inches * Length.MM_PER_INCH));
        inchWidths.close();
        Fields wheel = section(top, "wheel");
        tyres.flanges = number(wheel, "flanges", 100);
        tyres.flangeHeight = number(wheel, "flange height", 100);
        tyres.barrel = number(wheel, "barrel", 100);
        tyres.disc = number(wheel, "disc", 100);
        wheel.close();
        Fields cross = section(top, "cross-section");
        tyres.widestFrom = number(cross, "widest from", 1);
        tyres.shoulder = number(cross, "shoulder", 1);
        tyres.largestShoulder = number(cross, "largest shoulder", 100);
        cross.close();
        tyres.readChains(top);
        top.close();
        if (!in.clean(0)) {
            throw new CarFileException(in.complaints());
        }
        return tyres;
    }

    private void readChains(Fields top) {
        Fields chains = section(top, "snow chain room");
        YamlNode classes = chains.need("classes", "List the classes.").orElse(chains.node());
        if (classes instanceof YamlNode.Mapping mapping) {
            for (YamlNode.Entry entry : mapping.entries()) {
                Fields room = Fields.of(top.in(), entry.value(), entry.key().text());
                chainRoom.put(
                        entry.key().text(),
                        new ChainRoom(
                                room.positive("tread face", "Write a length."),
                                room.positive("side wall", "Write a length.")));
                room.close();
            }
        }
        chains.close();
    }

    private static Fields section(Fields top, String key) {
        YamlNode node = top.need(key, "Add the section.").orElse(top.node());
        Fields fields = Fields.of(top.in(), node, key);
        fields.text("source", "Say where the figures come from.");
        fields.text("mark", "Say how far the source was read.");
        return fields;
    }

    private static double number(Fields fields, String key, double greatest) {
        return fields.need(key, "Write a number.")
                .map(node -> fields.in().number(node, key, 0, greatest))
                .orElse(1.0);
    }

    private static Map<String, Double> numbers(Fields fields, String key, double least, double greatest) {
        Map<String, Double> numbers = new HashMap<>();
        fields.need(key, "List the numbers.").ifPresent(node -> {
            if (node instanceof YamlNode.Mapping mapping) {
                Fields.complainAboutTwins(fields.in(), mapping);
                for (YamlNode.Entry entry : mapping.entries()) {
                    numbers.put(entry.key().text(), fields.in().number(entry.value(), key, least, greatest));
                }
            } else {
                fields.in().wrongKind(node, key, "keys in braces");
            }
        });
        return numbers;
    }

    private static String inchWidth(double inches) {
        return String.format(Locale.ROOT, "%.2f", inches);
    }

    /** Returns the diameter at the bead seats of a nominal rim code, mm, if the code is known. */
    public OptionalDouble rimDiameterMm(int code) {
        Double mm = rimDiameters.get(code);
        return mm == null ? OptionalDouble.empty() : OptionalDouble.of(mm);
    }

    /** Returns the width of the rim on which a size is measured, mm, if it is known. */
    public OptionalDouble measuringRimMm(TyreSize size) {
        Double mm = size.isInch()
                ? measuringRimsOfInchWidths.get(inchWidth(size.widthMm() / Length.MM_PER_INCH))
                : measuringRims.get(size.written());
        return mm == null ? OptionalDouble.empty() : OptionalDouble.of(mm);
    }

    /** Returns the room that a class of snow chains needs, if the class is known. */
    public Optional<ChainRoom> chainRoom(String saeClass) {
        return Optional.ofNullable(chainRoom.get(saeClass));
    }

    /**
     * Returns the design overall diameter, mm: rim diameter and twice the section height, which is rounded to a
     * whole millimetre.
     *
     * @see "UN Regulation 30, 6.1.2"
     */
    public double designDiameterMm(TyreSize size) {
        return size.isInch() ? size.diameterMm() : rim(size) + 2 * Math.rint(size.heightMm());
    }

    /**
     * Returns the design section width on a rim, mm, not rounded.
     *
     * @param rimWidthMm between the bead seats, mm
     * @throws IllegalArgumentException for an inch size whose measuring rim is not in the tables
     * @see "UN Regulation 30, 6.1.1"
     */
    public double sectionWidthMm(TyreSize size, double rimWidthMm) {
        double theoretical = size.isInch()
                ? measuringRimMm(size)
                        .orElseThrow(() -> new IllegalArgumentException("no measuring rim for " + size.written()))
                : size.widthMm() * (size.aspect() <= lowUpTo ? lowRatio : ratio);
        return size.widthMm() + growth * (rimWidthMm - theoretical);
    }

    /** Returns the largest overall diameter that a new tyre of a size may have, mm. */
    public double largestDiameterMm(TyreSize size) {
        double rim = rim(size);
        double height = size.isInch() ? (size.diameterMm() - rim) / 2 : size.heightMm();
        return rim + 2 * height * largestHeight;
    }

    /** Returns the largest section width that a new tyre of a size may have on a rim, mm. */
    public double largestSectionWidthMm(TyreSize size, double rimWidthMm) {
        return sectionWidthMm(size, rimWidthMm) * largestSection;
    }

    /** Returns a rim's overall width over its flanges, mm. */
    public double overallRimWidthMm(double rimWidthMm) {
        return rimWidthMm + flanges;
    }

    /** Returns a rim's diameter over its flanges, mm. */
    public double flangeDiameterMm(TyreSize size) {
        return rim(size) + 2 * flangeHeight;
    }

    /** Returns the offset that follows from backspacing (inner edge of the rim to the mounting face), mm. */
    public double offsetMm(double backspacingMm, double rimWidthMm) {
        return backspacingMm - overallRimWidthMm(rimWidthMm) / 2;
    }

    /**
     * Returns the shape of a tyre, with its wheel if wished: solids of revolution, hollow inside the barrel, so that
     * a caliper may live there.
     *
     * @param centre middle of the rim, on the spindle axis
     * @param spindle outboard
     */
    public Shape shape(Fitment fitment, Spot centre, Direction spindle) {
        TyreSize size = fitment.size();
        double seat = rim(size) / 2;
        double rimHalf = fitment.rimWidthMm() / 2;
        double outer = (fitment.largest() ? largestDiameterMm(size) : designDiameterMm(size)) / 2;
        double half = (fitment.largest()
                        ? largestSectionWidthMm(size, fitment.rimWidthMm())
                        : sectionWidthMm(size, fitment.rimWidthMm()))
                / 2;
        double height = outer - seat;
        double wide = seat + widestFrom * height;
        List<Shape> members = new ArrayList<>();
        members.add(new Shape.Turned(
                centre,
                spindle,
                List.of(
                        new Flat(-rimHalf, seat),
                        new Flat(rimHalf, seat),
                        new Flat(half, wide),
                        new Flat(half, outer),
                        new Flat(-half, outer),
                        new Flat(-half, wide)),
                Math.min(largestShoulder, shoulder * height)));
        if (fitment.withWheel()) {
            double edge = overallRimWidthMm(fitment.rimWidthMm()) / 2;
            double inside = seat - barrel;
            double face = fitment.offsetMm();
            members.add(ring(centre, spindle, -edge, edge, inside, seat));
            members.add(ring(centre, spindle, rimHalf, edge, seat, seat + flangeHeight));
            members.add(ring(centre, spindle, -edge, -rimHalf, seat, seat + flangeHeight));
            members.add(ring(centre, spindle, face, Math.min(face + disc, edge), 0, inside));
        }
        return members.size() == 1 ? members.get(0) : new Shape.Group(members);
    }

    private static Shape ring(Spot centre, Direction axis, double from, double to, double inside, double outside) {
        return new Shape.Turned(
                centre,
                axis,
                List.of(new Flat(from, inside), new Flat(to, inside), new Flat(to, outside), new Flat(from, outside)),
                0);
    }

    private double rim(TyreSize size) {
        return rimDiameterMm(size.rimCode())
                .orElseThrow(() -> new IllegalArgumentException("no rim diameter for code " + size.rimCode()));
    }
}
