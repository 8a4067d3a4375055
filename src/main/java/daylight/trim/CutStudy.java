package daylight.trim;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.State;
import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.survey.MeasuredCar;
import daylight.units.LengthFormat;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Cuts of one plate tried on a car.
 *
 * <pre>{@code
 * CutStudy study = CutStudy.of(car, "right sway-bar bracket", Asked.USUAL);
 * Tried dragged = study.tried(List.of(cut), Progress.SILENT).orElseThrow();     // while a line is dragged
 * LeastCut least = study.leastCut(Wanted.inSteps(25.4 / 16), Progress.SILENT).orElseThrow();
 * }</pre>
 *
 * <p>Not thread-safe.
 */
public final class CutStudy {
    /** The region is begun with squares of about this share of the plate's size. */
    private static final double BEGIN_SHARE = 1.0 / 64;
    /** Rounds after which the region is fine enough or never will be. */
    private static final int MOST_ROUNDS = 60;
    /** Where no cut may be made the region is looked at once more with squares of this half side, mm. */
    private static final double LAST_LOOK_MM = 0.4;
    /** Steps by which a marked cut that the gap search does not clear is made larger. */
    private static final int MOST_STEPS = 4;
    /** Shifts of the plate up to this are tried, mm. */
    private static final double MOST_SHIFT_MM = 100;

    /** How much of the work each kind of cut is, about. */
    private static final double KIND_SHARE = 0.2;

    /** Times that a cut is made anew for the doubt that its gaps have. */
    private static final int MOST_DOUBTS = 4;
    /** Doubts that differ by less ask for the same cut, mm. */
    private static final double SAME_DOUBT_MM = 0.05;

    private static final int SHIFT_HALVINGS = 12;
    private static final int SHORT_HALVINGS = 7;

    private final Car car;
    private final Car.Part part;
    private final Shape.Plate plate;
    private final CutLimits limits;
    private final Asked asked;
    private final Around around;
    private final Kinematics kinematics;
    private Optional<List<GapRow>> before = Optional.empty();

    private CutStudy(Car car, Car.Part part, Shape.Plate plate, Asked asked) {
        this.car = car;
        this.part = part;
        this.plate = plate;
        this.asked = asked;
        this.limits = CutLimits.of(car.metal(part.name()));
        this.around = Around.of(car, Set.of(part.name()), asked);
        this.kinematics = Workspace.of(car).kinematics();
    }

    /**
     * Returns a study of a plate.
     *
     * @param asked how well gaps are to be known
     * @throws IllegalArgumentException if the car has no part of that name, or it is no plate
     */
    public static CutStudy of(Car car, String name, Asked asked) {
        Car.Part part =
                car.part(name).orElseThrow(() -> new IllegalArgumentException("no part is called \"" + name + "\""));
        if (!(part.shape() instanceof Shape.Plate plate)) {
            throw new IllegalArgumentException("\"" + name + "\" is not a plate");
        }
        return new CutStudy(car, part, plate, asked);
    }

    /** Returns the plate as it is. */
    public Shape.Plate plate() {
        return plate;
    }

    /**
     * Returns what keeps a cut of the plate from being made, in words: that it cannot be made at all, or that it takes
     * a hole's edge distance, a welded edge or what the builder wants kept.
     */
    public Optional<String> blocks(Cut cut) {
        return limits.blocks(plate, cut, LengthFormat.usual(car.unit()));
    }

    /**
     * A plate after cuts that were tried.
     *
     * @param gaps the gaps of the plate, tightest first
     */
    public record Tried(Shape.Plate plate, List<GapRow> gaps, MetalLeft metal) {
        public Tried {
            gaps = List.copyOf(gaps);
        }

        /** Returns whether every gap keeps its rule, proved. */
        public boolean clear() {
            return gaps.stream().allMatch(row -> row.state() == State.CLEAR);
        }
    }

    /**
     * Returns what a plate's gaps and metal are after cuts. Fast enough to follow a hand that drags a cut line.
     *
     * @param cuts one after another; none for the plate as it is
     * @return empty if the work was cancelled
     * @throws IllegalArgumentException if a cut cannot be made ({@link PlateCuts#whyNot} says so beforehand)
     */
    public Optional<Tried> tried(List<Cut> cuts, Progress progress) {
        if (before(progress).isEmpty()) {
            return Optional.empty();
        }
        Shape.Plate left = PlateCuts.after(plate, cuts);
        Optional<List<GapRow>> gaps = cuts.isEmpty() ? before : around.gapsWith(List.of(with(left)), progress);
        return gaps.map(rows -> new Tried(left, rows, metal(left)));
    }

    private MetalLeft metal(Shape.Plate of) {
        List<Flat> welds = limits.welds().stream()
                .map(weld -> new Flat(
                        (weld.from().x() + weld.to().x()) / 2,
                        (weld.from().y() + weld.to().y()) / 2))
                .toList();
        return MetalLeft.of(of, welds);
    }

    private Car.Part with(Shape.Plate other) {
        return part.withShape(other);
    }

    private Optional<List<GapRow>> before(Progress progress) {
        if (before.isEmpty()) {
            before = around.gaps(progress);
        }
        return before;
    }

    /**
     * What is wanted of a least cut.
     *
     * @param stepMm marked distances are whole numbers of these, mm
     * @param moreMm for each other part by name how much more than its rule asks is wanted (for doubt), mm
     */
    public record Wanted(double stepMm, Map<String, Double> moreMm) {
        public Wanted {
            moreMm = Map.copyOf(moreMm);
            if (!(stepMm > 0)) {
                throw new IllegalArgumentException("a step is more than zero: " + stepMm);
            }
        }

        /** Returns that the rules are to be kept, marked in such steps. */
        public static Wanted inSteps(double stepMm) {
            return new Wanted(stepMm, Map.of());
        }

        private double more(String other) {
            return moreMm.getOrDefault(other, 0.0);
        }

        /** So much more besides. */
        private Wanted and(Map<String, Double> doubtMm) {
            Map<String, Double> sum = new HashMap<>(moreMm);
            doubtMm.forEach((name, mm) -> sum.merge(name, mm, Double::sum));
            return new Wanted(stepMm, sum);
        }

        private Wanted atLeast(Wanted other) {
            Map<String, Double> most = new HashMap<>(moreMm);
            other.moreMm.forEach((name, mm) -> most.merge(name, mm, Math::max));
            return new Wanted(stepMm, most);
        }

        private boolean isNear(Wanted other) {
            return moreMm.keySet().equals(other.moreMm.keySet())
                    && moreMm.keySet().stream()
                            .allMatch(name -> Math.abs(more(name) - other.more(name)) <= SAME_DOUBT_MM);
        }
    }

    /**
     * Finds the cuts that take least off the plate and clear everything: the least straight cut, rounded corner and
     * notch, each marked out in whole steps, rounded outwards, and looked at once more by the gap search.
     *
     * @return empty if the work was cancelled
     */
    public Optional<LeastCut> leastCut(Wanted wanted, Progress progress) {
        Optional<List<GapRow>> rows = before(TrialStudy.quiet(progress));
        if (rows.isEmpty()) {
            return Optional.empty();
        }
        MetalLeft metal = metal(plate);
        if (clears(rows.get(), wanted)) {
            return Optional.of(
                    new LeastCut(part.name(), plate, rows.get(), List.of(), Optional.empty(), metal, 0, "", Map.of()));
        }
        Forbidden region = region(rows.get(), wanted, 0);
        List<LeastCut.Option> options = new ArrayList<>();
        double done = 0;
        for (LeastCut.Kind kind : LeastCut.Kind.values()) {
            if (progress.cancelled()) {
                return Optional.empty();
            }
            done += KIND_SHARE;
            progress.at(done, "looking for the least " + kind.word());
            option(kind, region, wanted, progress).ifPresent(options::add);
        }
        options.sort(Comparator.comparingDouble(LeastCut.Option::areaMm2));
        Optional<LeastCut.None> none =
                options.isEmpty() ? Optional.of(none(rows.get(), region, wanted, progress)) : Optional.empty();
        return Optional.of(new LeastCut(
                part.name(), plate, rows.get(), options, none, metal, region.tests(), region.trouble(), Map.of()));
    }

    /**
     * The same with room for doubt: the whole 95 % interval of every gap after the cut keeps its rule. The interval is
     * the one shown everywhere, 1.96 standard uncertainties to either side; that a gap is below its rule is then a
     * chance of one in forty, where 1.645 would leave one in twenty and a gap whose shown interval goes below its rule.
     *
     * <p>How sure a gap is hangs on where it is, so it is worked out again for the plate as each cut leaves it, until
     * the cut was made for the doubt that it has. What is given back was verified with that doubt after rounding.
     *
     * @param measured the car's points with their doubt
     * @param wanted what is wanted besides
     * @return empty if the work was cancelled
     * @throws CarFileException if the car's file cannot be read any more
     */
    public Optional<LeastCut> leastCutAt95(MeasuredCar measured, Wanted wanted, Progress progress)
            throws CarFileException {
        Optional<List<GapRow>> rows = before(TrialStudy.quiet(progress));
        CutDoubts doubts = CutDoubts.of(measured, part.name(), asked);
        Optional<Map<String, Double>> now =
                rows.isEmpty() ? Optional.empty() : doubts.of(rows.get(), Optional.empty(), progress);
        if (rows.isEmpty() || now.isEmpty()) {
            return Optional.empty();
        }
        MetalLeft metal = metal(plate);
        Wanted first = wanted.and(now.get());
        if (clears(rows.get(), first)) {
            return Optional.of(
                    new LeastCut(part.name(), plate, rows.get(), List.of(), Optional.empty(), metal, 0, "", now.get()));
        }
        List<LeastCut.Option> options = new ArrayList<>();
        long squares = 0;
        Set<String> trouble = new LinkedHashSet<>();
        int tried = 0;
        for (LeastCut.Kind kind : LeastCut.Kind.values()) {
            tried++;
            progress.at(tried / (LeastCut.Kind.values().length + 1.0), "looking for the least " + kind.word());
            Wanted then = first;
            Optional<LeastCut.Option> best = Optional.empty();
            for (int round = 0; round < MOST_DOUBTS; round++) {
                if (progress.cancelled()) {
                    return Optional.empty();
                }
                Forbidden region = region(rows.get(), then, 0);
                Optional<LeastCut.Option> option = option(kind, region, then, progress);
                squares += region.tests();
                trouble.add(region.trouble());
                if (option.isEmpty()) {
                    break;
                }
                Optional<Map<String, Double>> after =
                        doubts.of(option.get().gaps(), Optional.of(option.get().marked()), progress);
                if (after.isEmpty()) {
                    return Optional.empty();
                }
                Wanted asFound = wanted.and(after.get());
                if (clears(option.get().gaps(), asFound)
                        && (best.isEmpty()
                                || option.get().areaMm2() < best.get().areaMm2())) {
                    best = Optional.of(option.get().at95(after.get()));
                } else if (best.isPresent()) {
                    break;
                }
                if (then.isNear(asFound)) {
                    break;
                }
                then = best.isPresent() ? asFound : then.atLeast(asFound);
            }
            best.ifPresent(options::add);
        }
        trouble.addAll(doubts.trouble());
        trouble.remove("");
        options.sort(Comparator.comparingDouble(LeastCut.Option::areaMm2));
        Optional<LeastCut.None> none = options.isEmpty()
                ? Optional.of(none(rows.get(), region(rows.get(), first, 0), first, progress))
                : Optional.empty();
        return Optional.of(new LeastCut(
                part.name(), plate, rows.get(), options, none, metal, squares, String.join("; ", trouble), now.get()));
    }

    /**
     * Returns the places of the plate that come too near to other parts somewhere in the travel, as squares of at most
     * the given side: an outer picture of the region, too large by no more than the squares at its rim.
     */
    public List<List<Flat>> forbidden(Wanted wanted, double sideMm) {
        Optional<List<GapRow>> rows = before(Progress.SILENT);
        Forbidden region = region(rows.orElse(List.of()), wanted, 0);
        region.refineTo(sideMm / 2);
        return region.cells().stream().map(cell -> cell.metal).toList();
    }

    private static boolean clears(List<GapRow> rows, Wanted wanted, String part) {
        return rows.stream()
                .allMatch(row -> row.state() == State.CLEAR
                        && row.least().floorMm() >= row.requiredMm() + wanted.more(other(row, part)));
    }

    private boolean clears(List<GapRow> rows, Wanted wanted) {
        return clears(rows, wanted, part.name());
    }

    private static String other(GapRow row, String part) {
        return row.first().equals(part) ? row.second() : row.first();
    }

    /** The region of what needs a gap; {@code lessMm} less of it than asked. */
    private Forbidden region(List<GapRow> rows, Wanted wanted, double lessMm) {
        List<Forbidden.Other> others = new ArrayList<>();
        Workspace workspace = kinematics.workspace();
        for (GapRow row : rows) {
            String name = other(row, part.name());
            double needed = row.requiredMm() + wanted.more(name) - lessMm;
            if (row.least().floorMm() < needed) {
                Car.Part other = car.part(name)
                        .orElseThrow(() -> new IllegalStateException("no part " + name + "; please report this"));
                others.add(
                        new Forbidden.Other(name, Solid.of(other.shape()), workspace.bodyIndex(other.body()), needed));
            }
        }
        Forbidden region = new Forbidden(plate, part.body(), others, kinematics);
        if (!others.isEmpty()) {
            region.start(size() * BEGIN_SHARE);
        }
        return region;
    }

    private double size() {
        double size = 0;
        for (Flat a : plate.outline()) {
            for (Flat b : plate.outline()) {
                size = Math.max(size, Math.max(Math.abs(a.x() - b.x()), Math.abs(a.y() - b.y())));
            }
        }
        return size;
    }

    private CutFamily family(LeastCut.Kind kind) {
        return switch (kind) {
            case STRAIGHT -> new CutFamily.Straight(plate, limits);
            case ROUND -> new CutFamily.Round(plate, limits);
            case NOTCH -> new CutFamily.Notch(plate, limits);
        };
    }

    /** The least cut of a kind that takes the region off: the squares that it rests on are made small. */
    private static Optional<CutFamily.Found> exact(CutFamily family, Forbidden region) {
        Optional<CutFamily.Found> found = Optional.empty();
        for (int round = 0; round < MOST_ROUNDS; round++) {
            found = region.cells().isEmpty() ? Optional.empty() : family.least(region.cells(), 0);
            List<Forbidden.Cell> coarse = found.map(f ->
                            f.rests().stream().filter(Forbidden.Cell::refines).toList())
                    .orElseGet(() -> region.cells().stream()
                            .filter(cell -> cell.refines() && cell.halfMm > LAST_LOOK_MM)
                            .toList());
            if (coarse.isEmpty()) {
                break;
            }
            region.refine(coarse);
        }
        return found;
    }

    private Optional<LeastCut.Option> option(LeastCut.Kind kind, Forbidden region, Wanted wanted, Progress progress) {
        CutFamily family = family(kind);
        Optional<CutFamily.Found> exact = exact(family, region);
        if (exact.isEmpty()) {
            return Optional.empty();
        }
        // A cut in whole steps may rest on other squares than the exact one.
        Optional<CutFamily.Found> marked = family.least(region.cells(), wanted.stepMm());
        for (int round = 0; round < MOST_ROUNDS && marked.isPresent(); round++) {
            List<Forbidden.Cell> coarse = marked.get().rests().stream()
                    .filter(cell -> cell.refines() && cell.halfMm > wanted.stepMm() / 64)
                    .toList();
            if (coarse.isEmpty()) {
                break;
            }
            region.refine(coarse);
            marked = family.least(region.cells(), wanted.stepMm());
        }
        if (marked.isEmpty()) {
            return Optional.empty();
        }
        Cut cut = marked.get().cut();
        for (int step = 0; step < MOST_STEPS; step++) {
            if (!limits.allows(plate, cut)) {
                return Optional.empty();
            }
            Shape.Plate after = PlateCuts.after(plate, cut);
            Optional<List<GapRow>> gaps = around.gapsWith(List.of(with(after)), TrialStudy.quiet(progress));
            if (gaps.isEmpty()) {
                return Optional.empty();
            }
            if (clears(gaps.get(), wanted)) {
                double area =
                        Math.abs(Hull.twiceArea(plate.outline())) / 2 - Math.abs(Hull.twiceArea(after.outline())) / 2;
                return Optional.of(new LeastCut.Option(
                        kind,
                        exact.get().cut(),
                        exact.get().areaMm2(),
                        cut,
                        after,
                        area,
                        gaps.get(),
                        metal(after),
                        Map.of()));
            }
            cut = larger(cut, wanted.stepMm());
        }
        return Optional.empty();
    }

    /** The next larger cut in whole steps. */
    private static Cut larger(Cut cut, double stepMm) {
        if (cut instanceof Cut.Straight straight) {
            return new Cut.Straight(
                    straight.first(),
                    straight.alongFirstMm() + stepMm,
                    straight.second(),
                    straight.alongSecondMm() + stepMm);
        }
        if (cut instanceof Cut.Round round) {
            return new Cut.Round(round.corner(), round.radiusMm() + stepMm);
        }
        Cut.Notch notch = (Cut.Notch) cut;
        return new Cut.Notch(
                notch.edge(),
                notch.fromEnd(),
                Math.max(0, notch.startsMm() - stepMm),
                notch.endsMm() + stepMm,
                notch.deepMm() + stepMm);
    }

    /** No cut may be made: what is in the way, how near one gets, and how far the plate would have to move. */
    private LeastCut.None none(List<GapRow> rows, Forbidden region, Wanted wanted, Progress progress) {
        progress.at(0.8, "no cut clears: looking for what does");
        LengthFormat format = LengthFormat.usual(car.unit());
        CutLimits nothing = new CutLimits(List.of(), List.of(), Optional.of(0.0), 0, "");
        Set<String> blocks = new LinkedHashSet<>();
        List<CutFamily> free = List.of(
                new CutFamily.Straight(plate, nothing),
                new CutFamily.Round(plate, nothing),
                new CutFamily.Notch(plate, nothing));
        for (CutFamily family : free) {
            exact(family, region)
                    .flatMap(found -> limits.blocks(plate, found.cut(), format))
                    .ifPresent(blocks::add);
        }
        double most = 0;
        for (GapRow row : rows) {
            most = Math.max(
                    most,
                    row.requiredMm()
                            + wanted.more(other(row, part.name()))
                            - row.least().floorMm());
        }
        double low = 0;
        double high = most;
        Optional<CutFamily.Found> nearest = Optional.empty();
        for (int step = 0; step < SHORT_HALVINGS && !progress.cancelled(); step++) {
            double middle = (low + high) / 2;
            Forbidden less = region(rows, wanted, middle);
            Optional<CutFamily.Found> found = Optional.empty();
            for (LeastCut.Kind kind : LeastCut.Kind.values()) {
                Optional<CutFamily.Found> one = exact(family(kind), less);
                if (one.isPresent()
                        && (found.isEmpty() || one.get().areaMm2() < found.get().areaMm2())) {
                    found = one;
                }
            }
            if (found.isPresent()) {
                nearest = found;
                high = middle;
            } else {
                low = middle;
            }
        }
        return new LeastCut.None(
                blocks.isEmpty() ? "the region reaches right across the plate" : String.join("; ", blocks),
                nearest.map(CutFamily.Found::cut),
                high,
                shift(wanted, progress));
    }

    private record Way(String words, int ahead, int left, int up) {}

    private Optional<LeastCut.Shift> shift(Wanted wanted, Progress progress) {
        Asked wider =
                new Asked(asked.toleranceMm(), asked.watchMm() + MOST_SHIFT_MM, asked.mostBoxes(), asked.threads());
        Around there = Around.of(car, Set.of(part.name()), wider);
        there.gaps(TrialStudy.quiet(progress));
        List<Way> ways = List.of(
                new Way("up", 0, 0, 1),
                new Way("down", 0, 0, -1),
                new Way("to the left", 0, 1, 0),
                new Way("to the right", 0, -1, 0),
                new Way("ahead", 1, 0, 0),
                new Way("back", -1, 0, 0));
        double best = MOST_SHIFT_MM;
        LeastCut.Shift least = null;
        for (Way way : ways) {
            if (progress.cancelled() || !isClear(there, way, best, wanted, progress)) {
                continue;
            }
            double low = 0;
            double high = best;
            for (int step = 0; step < SHIFT_HALVINGS && high - low > wanted.stepMm() / 2; step++) {
                double middle = (low + high) / 2;
                if (isClear(there, way, middle, wanted, progress)) {
                    high = middle;
                } else {
                    low = middle;
                }
            }
            double by = Math.ceil(high / wanted.stepMm() - 1e-9) * wanted.stepMm();
            Optional<List<GapRow>> gaps = gapsAt(there, way, by, progress);
            if (gaps.isPresent() && clears(gaps.get(), wanted) && (least == null || by < least.byMm())) {
                least = new LeastCut.Shift(
                        way.words(), by, by * way.ahead(), by * way.left(), by * way.up(), gaps.get());
                best = Math.min(best, high);
            }
        }
        return Optional.ofNullable(least);
    }

    private boolean isClear(Around there, Way way, double by, Wanted wanted, Progress progress) {
        return gapsAt(there, way, by, progress)
                .map(rows -> clears(rows, wanted))
                .orElse(false);
    }

    private Optional<List<GapRow>> gapsAt(Around there, Way way, double by, Progress progress) {
        Shape moved = plate.movedBy(Pose.shift(by * way.ahead(), by * way.left(), by * way.up()));
        return there.gapsWith(List.of(part.withShape(moved)), progress);
    }
}
