package daylight.car;

import daylight.geometry.Cut;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * A car as its file describes it, checked: every name resolves, every length has a meaning. Lengths in mm in the
 * car frame at ride height (ISO 8855: x forward, y left, z up).
 *
 * @param name what the builder calls it
 * @param reference VIN or body number, for the report
 * @param datum what the measurements start from, in the builder's words
 * @param inches whether the file's own unit is the inch (else the millimetre)
 * @param points the named points in file order
 * @param tape distances read between points
 * @param mechanisms what moves, compiled from the layouts; body names are car-wide (mechanism name, space, body)
 * @param parts what may touch, in file order
 * @param allowances what may shift besides the mechanisms
 * @param rules required gaps in file order
 * @param exclusions pairs that are not to be measured, each with the builder's reason
 * @param about who measured what and when, for the report
 * @param wheels the wheels among the parts, with what wheel geometry needs of them
 * @param readouts what there is to read off the mechanisms while they travel
 * @param limits what really ends their movements
 * @param mirrorChecks points measured on a side that is a mirror of the other; they check it and move nothing
 * @param hoses flexible lines (brake hose, fuel line, clutch line, wiring loom), in file order
 * @param judgedBy what the car is inspected against
 * @param metal what is known of the plates among the parts for cutting them
 * @param trials changes that the builder wants to try
 */
public record Car(
        String name,
        Optional<String> reference,
        Optional<String> datum,
        boolean inches,
        List<Point> points,
        List<TapeReading> tape,
        List<Mechanism> mechanisms,
        List<Part> parts,
        List<Allowance> allowances,
        List<Rule> rules,
        List<Exclusion> exclusions,
        About about,
        List<Wheel> wheels,
        List<MirrorCheck> mirrorChecks,
        List<Readout> readouts,
        List<Limit> limits,
        List<Hose> hoses,
        JudgedBy judgedBy,
        List<Metal> metal,
        List<Trial> trials) {

    public Car {
        points = List.copyOf(points);
        tape = List.copyOf(tape);
        mechanisms = List.copyOf(mechanisms);
        parts = List.copyOf(parts);
        allowances = List.copyOf(allowances);
        rules = List.copyOf(rules);
        exclusions = List.copyOf(exclusions);
        wheels = List.copyOf(wheels);
        mirrorChecks = List.copyOf(mirrorChecks);
        readouts = List.copyOf(readouts);
        limits = List.copyOf(limits);
        hoses = List.copyOf(hoses);
        metal = List.copyOf(metal);
        trials = List.copyOf(trials);
    }

    /** Makes a car about which nothing more is known. */
    public Car(
            String name,
            Optional<String> reference,
            Optional<String> datum,
            boolean inches,
            List<Point> points,
            List<TapeReading> tape,
            List<Mechanism> mechanisms,
            List<Part> parts,
            List<Allowance> allowances,
            List<Rule> rules,
            List<Exclusion> exclusions) {
        this(
                name,
                reference,
                datum,
                inches,
                points,
                tape,
                mechanisms,
                parts,
                allowances,
                rules,
                exclusions,
                About.NOTHING,
                List.of(),
                List.of(),
                List.of(),
                List.of(),
                List.of(),
                JudgedBy.NOTHING,
                List.of(),
                List.of());
    }

    /** Returns the same car with other parts. */
    public Car withParts(List<Part> others) {
        return new Car(
                name,
                reference,
                datum,
                inches,
                points,
                tape,
                mechanisms,
                others,
                allowances,
                rules,
                exclusions,
                about,
                wheels,
                mirrorChecks,
                readouts,
                limits,
                hoses,
                judgedBy,
                metal,
                trials);
    }

    /** Returns the same car with other pairs left out. */
    public Car withExclusions(List<Exclusion> others) {
        return new Car(
                name,
                reference,
                datum,
                inches,
                points,
                tape,
                mechanisms,
                parts,
                allowances,
                rules,
                others,
                about,
                wheels,
                mirrorChecks,
                readouts,
                limits,
                hoses,
                judgedBy,
                metal,
                trials);
    }

    /** Returns the same car with other flexible lines. */
    public Car withHoses(List<Hose> others) {
        return new Car(
                name,
                reference,
                datum,
                inches,
                points,
                tape,
                mechanisms,
                parts,
                allowances,
                rules,
                exclusions,
                about,
                wheels,
                mirrorChecks,
                readouts,
                limits,
                others,
                judgedBy,
                metal,
                trials);
    }

    /**
     * Returns the same car held to other rule lists: its own rules stay, those of the lists that it names are replaced.
     * Where no rule is for any pair, the one that was there stays.
     */
    public Car heldTo(List<RuleList> lists) {
        List<Rule> held = new ArrayList<>(
                rules.stream().filter(rule -> rule.list().isEmpty()).toList());
        lists.forEach(list -> held.addAll(list.gaps()));
        Predicate<Rule> forAny =
                rule -> rule.first().equals("any") && rule.second().equals("any");
        if (held.stream().noneMatch(forAny)) {
            rules.stream().filter(forAny).findFirst().ifPresent(held::add);
        }
        return new Car(
                name,
                reference,
                datum,
                inches,
                points,
                tape,
                mechanisms,
                parts,
                allowances,
                held,
                exclusions,
                about,
                wheels,
                mirrorChecks,
                readouts,
                limits,
                hoses,
                new JudgedBy(lists, judgedBy.changes(), judgedBy.turning()),
                metal,
                trials);
    }

    /** Returns the same car on other wheels. */
    public Car withWheels(List<Wheel> others) {
        return new Car(
                name,
                reference,
                datum,
                inches,
                points,
                tape,
                mechanisms,
                parts,
                allowances,
                rules,
                exclusions,
                about,
                others,
                mirrorChecks,
                readouts,
                limits,
                hoses,
                judgedBy,
                metal,
                trials);
    }

    /** Returns the same car with other notes on its plates. */
    public Car withMetal(List<Metal> others) {
        return new Car(
                name,
                reference,
                datum,
                inches,
                points,
                tape,
                mechanisms,
                parts,
                allowances,
                rules,
                exclusions,
                about,
                wheels,
                mirrorChecks,
                readouts,
                limits,
                hoses,
                judgedBy,
                others,
                trials);
    }

    /** Returns what is known of a plate for cutting it, if the part of that name is one. */
    public Optional<Metal> metal(String part) {
        return metal.stream().filter(plate -> plate.part().equals(part)).findFirst();
    }

    /** Returns the trial of that name, if there is one. */
    public Optional<Trial> trial(String wanted) {
        return trials.stream().filter(trial -> trial.name().equals(wanted)).findFirst();
    }

    /** Returns the part of that name, if there is one. */
    public Optional<Part> part(String wanted) {
        return parts.stream().filter(part -> part.name().equals(wanted)).findFirst();
    }

    /** Returns within how much a part stands where its own figures put it, mm: its own word, else the whole car's. */
    public double withinMm(Part part) {
        return part.withinMm().orElse(about.withinMm());
    }

    /** Returns the point of that name, if there is one. */
    public Optional<Point> point(String wanted) {
        return points.stream().filter(point -> point.name().equals(wanted)).findFirst();
    }

    /** Returns the mechanism of that name, if there is one. */
    public Optional<Mechanism> mechanism(String wanted) {
        return mechanisms.stream()
                .filter(mechanism -> mechanism.name().equals(wanted))
                .findFirst();
    }

    /** The unit of the file's bare numbers. */
    public Unit unit() {
        return inches ? Unit.INCH : Unit.MILLIMETRE;
    }

    /**
     * What the report's first page says besides the name.
     *
     * @param measuredBy who held the tape, if said
     * @param date when, in the builder's own words, if said
     * @param note anything else, if said
     * @param invented whether the file says that its figures are made up
     * @param withinMm half width within which a measurement is trusted unless it says otherwise, mm
     */
    public record About(
            Optional<String> measuredBy,
            Optional<String> date,
            Optional<String> note,
            boolean invented,
            double withinMm) {
        /** Nothing is known; a tape is trusted to a sixteenth. */
        public static final About NOTHING =
                new About(Optional.empty(), Optional.empty(), Optional.empty(), false, 25.4 / 16);
    }

    /**
     * A measured point.
     *
     * @param withinMm half width within which each coordinate is trusted, mm
     * @param mirrorOf the measured point of which this one is the mirror image, if it is one; such a point has no
     *     measurement of its own
     */
    public record Point(String name, Spot at, double withinMm, Optional<String> note, Optional<String> mirrorOf) {
        /** Makes a point that was measured itself. */
        public Point(String name, Spot at, double withinMm, Optional<String> note) {
            this(name, at, withinMm, note, Optional.empty());
        }
    }

    /**
     * A point measured on a side that the file describes as a mirror of the other.
     *
     * @param measured the point that was measured there
     * @param source the point on the other side whose mirror image it checks
     */
    public record MirrorCheck(String measured, String source) {}

    /**
     * A wheel with its tyre.
     *
     * @param part the part that it is
     * @param body the body that carries it
     * @param centre middle of the rim, on the spindle axis
     * @param spindle direction of the spindle axis, outboard
     * @param nominalDiameterMm design diameter of the new tyre, mm
     * @param nominalWidthMm section width of the new tyre on this rim, mm
     * @param rimDiameterMm over the rim's flanges, mm: what the road meets when the tyre is flat
     */
    public record Wheel(
            String part,
            String body,
            Spot centre,
            Direction spindle,
            double nominalDiameterMm,
            double nominalWidthMm,
            double rimDiameterMm) {}

    /**
     * What is known of a plate besides its shape, for cutting it. Places are in the outline's coordinates, mm.
     *
     * @param part the part that is the plate
     * @param drawn the plate as it was before its cuts
     * @param cuts what has been cut off it, one after another; the part's shape is what is left
     * @param welds edges of the drawn outline that are welded: no cut takes anything of them
     * @param keep figures that have to stay, each of at least three corners
     * @param edgeDistanceMm least distance from the centre of a hole to a cut edge, if said
     */
    public record Metal(
            String part,
            Shape.Plate drawn,
            List<Cut> cuts,
            List<Weld> welds,
            List<List<Flat>> keep,
            Optional<Double> edgeDistanceMm) {
        public Metal {
            cuts = List.copyOf(cuts);
            welds = List.copyOf(welds);
            keep = keep.stream().map(List::copyOf).toList();
        }

        /** A welded edge, from one corner to the other. */
        public record Weld(String name, Flat from, Flat to) {}

        /** Returns the same for a mirrored part. */
        Metal mirrored(String image, Shape.Plate imageDrawn) {
            return new Metal(image, imageDrawn, cuts, welds, keep, edgeDistanceMm);
        }
    }

    /** A distance read with a tape between two points, mm. */
    public record TapeReading(String from, String to, double readsMm, double withinMm) {}

    /**
     * A part that may touch another.
     *
     * @param body the body that carries it: a mechanism's body, an allowance's body, or {@link Mechanism#GROUND}
     * @param kinds words by which rules find it (exhaust, tyre, brake hose), lower case
     * @param withinMm half width within which it stands where its own figures put it, mm, above zero; where it gives
     *     none, that of the whole car ({@link Car#withinMm(Part)})
     */
    public record Part(
            String name,
            String body,
            List<String> kinds,
            Shape shape,
            Optional<String> note,
            Optional<Double> withinMm) {
        public Part {
            kinds = List.copyOf(kinds);
        }

        /** A part that says nothing of how well it was measured. */
        public Part(String name, String body, List<String> kinds, Shape shape, Optional<String> note) {
            this(name, body, kinds, shape, note, Optional.empty());
        }

        /** Returns the same part with another shape. */
        public Part withShape(Shape other) {
            return new Part(name, body, kinds, other, note, withinMm);
        }
    }

    /**
     * A flexible line between two end fittings.
     *
     * @param kinds words by which rules find it (brake hose, fuel line), lower case
     * @param from the fitting at its begin
     * @param to the fitting at its end
     * @param clips what holds it between, from begin to end
     * @param freeLengthMm length of the flexible part, straight, between the fittings
     * @param outsideDiameterMm of the hose
     * @param leastBendRadiusMm as the maker gives it
     * @param radiusToInside whether that radius is to the inside of the bend (rubber and fluoropolymer hose) or to the
     *     centre line (metal hose)
     * @param greatestTwistRad most that the fittings may twist it from how it is fitted at ride height, if a limit is
     *     given
     * @param stockLengthsMm free lengths that can be bought, ascending; may be empty
     */
    public record Hose(
            String name,
            List<String> kinds,
            Fitting from,
            Fitting to,
            List<Clip> clips,
            double freeLengthMm,
            double outsideDiameterMm,
            double leastBendRadiusMm,
            boolean radiusToInside,
            Optional<Double> greatestTwistRad,
            List<Double> stockLengthsMm,
            Optional<String> note) {
        public Hose {
            kinds = List.copyOf(kinds);
            clips = List.copyOf(clips);
            stockLengthsMm = List.copyOf(stockLengthsMm);
        }

        /** Returns the least radius of the centre line, mm. */
        public double leastCentreRadiusMm() {
            return leastBendRadiusMm + (radiusToInside ? outsideDiameterMm / 2 : 0);
        }

        /** Returns the same line with another free length. */
        public Hose withFreeLength(double mm) {
            return new Hose(
                    name,
                    kinds,
                    from,
                    to,
                    clips,
                    mm,
                    outsideDiameterMm,
                    leastBendRadiusMm,
                    radiusToInside,
                    greatestTwistRad,
                    stockLengthsMm,
                    note);
        }

        /** Returns the same line with other directions at its ends. */
        public Hose withFittings(Fitting begin, Fitting end) {
            return new Hose(
                    name,
                    kinds,
                    begin,
                    end,
                    clips,
                    freeLengthMm,
                    outsideDiameterMm,
                    leastBendRadiusMm,
                    radiusToInside,
                    greatestTwistRad,
                    stockLengthsMm,
                    note);
        }

        /**
         * An end fitting, or a fixed clip's mouth.
         *
         * @param body the body that carries it
         * @param at where it is screwed on
         * @param leaves which way the hose leaves it
         * @param straightMm its own straight, stiff length from {@code at} along {@code leaves}
         * @param swivels whether the hose may turn in it
         * @param turnsAbout the bolt about which it can be set another way before it is tightened, if it can
         */
        public record Fitting(
                String body,
                Spot at,
                Direction leaves,
                double straightMm,
                boolean swivels,
                Optional<Direction> turnsAbout) {
            /** Returns where the flexible part begins, at ride height. */
            public Spot mouth() {
                return at.along(leaves, straightMm);
            }
        }

        /**
         * A clip that holds the hose, or guides it.
         *
         * @param body the body that carries it
         * @param at where the hose's centre line passes it
         * @param along which way the hose runs there, from begin to end
         * @param afterMm how much of the free length lies before it at ride height
         * @param slides whether the hose may slide and turn in it (a loop) instead of being held fast
         */
        public record Clip(String body, Spot at, Direction along, double afterMm, boolean slides) {}
    }

    /**
     * A body that may shift a little against the body that carries it (an exhaust on its hangers).
     *
     * @param body its name
     * @param on the body that carries it
     * @param plays how far it may shift, each along its own direction, all at once
     */
    public record Allowance(String body, String on, List<Play> plays) {
        public Allowance {
            plays = List.copyOf(plays);
        }

        /**
         * How far along one direction of the carrying body.
         *
         * @param leastMm zero or less
         * @param greatestMm zero or more
         */
        public record Play(String name, Direction along, double leastMm, double greatestMm) {}
    }

    /**
     * The gap asked for between two selections of parts.
     *
     * @param first a part's name, a kind, a body, or {@code any}
     * @param second likewise
     * @param atLeastMm zero or more
     * @param source where the figure comes from, if said
     * @param list the rule list that asks for it; empty for a rule of the car file's own
     */
    public record Rule(String first, String second, double atLeastMm, Optional<String> source, Optional<String> list) {
        /** Makes a rule of the car file's own. */
        public Rule(String first, String second, double atLeastMm, Optional<String> source) {
            this(first, second, atLeastMm, source, Optional.empty());
        }
    }

    /**
     * What a car is inspected against, besides the gaps.
     *
     * @param lists rule lists in the order in which the car file names them; their gaps are among the car's rules
     * @param changes how ride height differs from what it was before the car was modified
     * @param turning what one turn of the steering wheel does, if said
     */
    public record JudgedBy(List<RuleList> lists, List<HeightChange> changes, Optional<Turning> turning) {
        /** No list, nothing changed, nothing known. */
        public static final JudgedBy NOTHING = new JudgedBy(List.of(), List.of(), Optional.empty());

        public JudgedBy {
            lists = List.copyOf(lists);
            changes = List.copyOf(changes);
        }
    }

    /**
     * How an axle's ride height was changed.
     *
     * @param front whether it is the front axle (else the rear)
     * @param loweredMm how much nearer the body is to the road than before, mm; negative when raised
     * @param originalBumpMm wheel travel in bump before the change, mm, where it does not follow from the lowering
     * @param originalDroopMm wheel travel in droop before the change, likewise
     */
    public record HeightChange(
            boolean front, double loweredMm, Optional<Double> originalBumpMm, Optional<Double> originalDroopMm) {}

    /**
     * What one turn of the steering wheel does to the steering's driver.
     *
     * @param perTurn rack travel, mm, or turn of the box's arm, rad
     * @param turns whether it is an angle
     */
    public record Turning(double perTurn, boolean turns) {}

    /** A pair of selections that is not measured, and why (bolted together, meant to touch). */
    public record Exclusion(String first, String second, String reason) {}
}
