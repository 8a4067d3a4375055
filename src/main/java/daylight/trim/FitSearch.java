package daylight.trim;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.car.Change;
import daylight.car.Trial;
import daylight.car.TyreSize;
import daylight.car.Tyres;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.geometry.Shape;
import daylight.linkage.Mechanism;
import daylight.motion.Handle;
import daylight.motion.Workspace;
import daylight.survey.MeasuredCar;
import daylight.units.Length;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * Questions the other way round: how far something may go before a gap falls below its rule. Answered by bracketing on
 * the gap search, which itself looks at the whole continuous travel.
 *
 * <p>Each answer says on what it rests: a longer travel includes every shorter one, so gaps only close with it; a tyre
 * of the same shape that is wider and higher holds the smaller one; and a wheel that is shifted by so much changes no
 * gap by more. Nothing else is taken to rise or fall steadily.
 *
 * <p>Not thread-safe.
 */
public final class FitSearch {
    /** Travel beyond the stated one that is looked at, as a share of it. */
    private static final double BEYOND = 1.5;

    private static final int MOST_STEPS = 40;
    private static final int NARROWEST = 125;
    private static final int WIDEST = 365;
    private static final int WIDTH_STEP = 10;
    /** A backspacing leaves at least this of the rim on either side of the face, mm. */
    private static final double RIM_LEFT_MM = 6;

    private final MeasuredCar measured;
    private final CarDocument document;
    private final Car car;
    private final Asked asked;
    private final Tyres tyres = Tyres.shipped();

    private FitSearch(MeasuredCar measured, Asked asked) {
        this.measured = measured;
        this.document = measured.document();
        this.car = measured.car();
        this.asked = asked;
    }

    /** Returns a search on a car. */
    public static FitSearch of(MeasuredCar measured, Asked asked) {
        return new FitSearch(measured, asked);
    }

    /** Returns the car. */
    public Car car() {
        return car;
    }

    /** What can be asked for. */
    public enum Question {
        /** The most bump travel before a gap goes below its rule. */
        MOST_BUMP("most bump"),
        /** The lowest ride height that stays clear with all of its bump travel. */
        LOWEST_RIDE("lowest ride"),
        /** The widest tyre that fits at full lock and full bump. */
        WIDEST_TYRE("widest tyre"),
        /** The range of backspacing that fits. */
        BACKSPACING("backspacing");

        private final String word;

        Question(String word) {
            this.word = word;
        }

        /** Returns the words for it on the command line. */
        public String word() {
            return word;
        }
    }

    /**
     * One value that was looked at.
     *
     * @param valueMm the value, mm
     * @param label what it is called, where a number alone does not say it
     * @param fits whether every gap kept its rule
     * @param tightest the pair with the least margin, if any pair was measured
     */
    public record Look(double valueMm, String label, boolean fits, Optional<GapRow> tightest) {}

    /**
     * An answer.
     *
     * @param of what was asked about
     * @param statedMm the value as the file has it, mm
     * @param leastMm least value that fits, mm; empty when none does
     * @param mostMm greatest value that fits, mm; empty when none does
     * @param label what the greatest is called, where a number alone does not say it
     * @param openEnd whether everything that was looked at fits, so that the end was not reached
     * @param looks what was looked at, by value
     * @param leftOut pairs that are below their rule whatever the value
     * @param resolutionMm how near to the true end the answer is, mm
     */
    public record Found(
            Question question,
            String of,
            double statedMm,
            Optional<Double> leastMm,
            Optional<Double> mostMm,
            String label,
            boolean openEnd,
            List<Look> looks,
            List<GapRow> leftOut,
            double resolutionMm) {
        public Found {
            looks = List.copyOf(looks);
            leftOut = List.copyOf(leftOut);
        }
    }

    /**
     * Returns the names that a question can be asked about: mechanisms with a {@code bump}, or tyres; without those that
     * are written as the mirror of another.
     */
    public List<String> askable(Question question) {
        if (question == Question.MOST_BUMP || question == Question.LOWEST_RIDE) {
            return car.mechanisms().stream()
                    .map(Mechanism::name)
                    .filter(name ->
                            document.value(List.of("mechanisms", name, "bump")).isPresent())
                    .toList();
        }
        return car.wheels().stream()
                .map(Car.Wheel::part)
                .filter(name -> document.has(List.of("parts", name, "tyre")))
                .toList();
    }

    /**
     * Answers a question.
     *
     * @param of one of {@link #askable}
     * @param resolutionMm how near to the true end lengths are to be found, mm
     * @return empty if the work was cancelled
     * @throws CarFileException if a value that has to be looked at gives no car
     * @throws IllegalArgumentException if the question cannot be asked about it
     */
    public Optional<Found> find(Question question, String of, double resolutionMm, Progress progress)
            throws CarFileException {
        if (!askable(question).contains(of)) {
            throw new IllegalArgumentException(
                    question.word() + " cannot be asked of \"" + of + "\"; it can of " + askable(question));
        }
        return switch (question) {
            case MOST_BUMP -> bump(of, resolutionMm, progress);
            case LOWEST_RIDE -> bump(of, resolutionMm, progress).map(FitSearch::asRideHeight);
            case WIDEST_TYRE -> widest(of, progress);
            case BACKSPACING -> backspacing(of, resolutionMm, progress);
        };
    }

    // ---- travel -----------------------------------------------------------------------------------------

    private Optional<Found> bump(String mechanism, double resolutionMm, Progress progress) throws CarFileException {
        Mechanism of = car.mechanism(mechanism)
                .orElseThrow(() -> new IllegalArgumentException("no mechanism is called " + mechanism));
        double stated = of.drivers().stream()
                .filter(driver -> driver instanceof Mechanism.Driver.Rise)
                .mapToDouble(Mechanism.Driver::highest)
                .max()
                .orElse(0);
        double high = BEYOND * stated;
        Set<String> focus = movedBy(of);
        progress.at(0.05, "without any bump");
        Optional<List<GapRow>> rest = gaps(withBump(mechanism, 0), focus, progress);
        if (rest.isEmpty()) {
            return Optional.empty();
        }
        List<GapRow> leftOut = rest.get().stream().filter(row -> !keeps(row)).toList();
        Set<List<String>> out = new HashSet<>();
        leftOut.forEach(row -> out.add(List.of(row.first(), row.second())));
        TreeMap<Double, Look> looks = new TreeMap<>();
        looks.put(0.0, look(0, "", without(rest.get(), out)));
        double low = 0;
        boolean open = false;
        int steps = 2 + (int) Math.ceil(Math.log(Math.max(2, high / resolutionMm)) / Math.log(2));
        // The stated travel first, then what is beyond it, then halves.
        double[] first = {stated, high};
        int done = 0;
        while (high - low > resolutionMm && done < MOST_STEPS) {
            double value =
                    done < first.length && first[done] > low && first[done] <= high ? first[done] : (low + high) / 2;
            done++;
            progress.at(Math.min(0.99, 0.05 + 0.95 * done / steps), "bump " + Math.round(value) + " mm");
            Optional<List<GapRow>> rows = gaps(withBump(mechanism, value), focus, progress);
            if (rows.isEmpty()) {
                return Optional.empty();
            }
            Look look = look(value, "", without(rows.get(), out));
            looks.put(value, look);
            if (look.fits()) {
                low = value;
                if (value == BEYOND * stated) {
                    open = true;
                    break;
                }
            } else {
                high = value;
            }
        }
        return Optional.of(new Found(
                Question.MOST_BUMP,
                mechanism,
                stated,
                Optional.of(0.0),
                Optional.of(low),
                "",
                open,
                List.copyOf(looks.values()),
                leftOut,
                resolutionMm));
    }

    /** Lowered by h with the bump stops moved along, a wheel goes as far up as with h more bump now. */
    private static Found asRideHeight(Found bump) {
        return new Found(
                Question.LOWEST_RIDE,
                bump.of(),
                bump.statedMm(),
                Optional.empty(),
                bump.mostMm().map(most -> most - bump.statedMm()),
                "",
                bump.openEnd(),
                bump.looks(),
                bump.leftOut(),
                bump.resolutionMm());
    }

    private Car withBump(String mechanism, double mm) throws CarFileException {
        Trial trial = new Trial(
                "bump",
                List.of(new Change.OtherEnds(
                        mechanism,
                        Change.OtherEnds.Kind.BUMP_STOP,
                        List.of(new Change.OtherEnds.End("bump", mm, false)))));
        return TrialCar.of(measured, trial).car();
    }

    /** Parts that a mechanism's wheel travel moves, and those of a mechanism that is its mirror. */
    private Set<String> movedBy(Mechanism mechanism) {
        Workspace workspace = Workspace.of(car);
        Set<Integer> handles = new HashSet<>();
        for (int h = 0; h < workspace.handles().size(); h++) {
            Handle handle = workspace.handles().get(h);
            boolean own = mechanism.drivers().stream()
                    .anyMatch(driver -> driver instanceof Mechanism.Driver.Rise
                            && driver.name().equals(handle.name()));
            if (own) {
                handles.add(h);
            }
        }
        Set<String> parts = new HashSet<>();
        for (Car.Part part : car.parts()) {
            int body = workspace.bodyIndex(part.body());
            if (workspace.handlesOf(body, body).stream().anyMatch(handles::contains)) {
                parts.add(part.name());
            }
        }
        return parts;
    }

    private Optional<List<GapRow>> gaps(Car of, Set<String> focus, Progress progress) {
        return Around.of(of, focus, asked).gaps(TrialStudy.quiet(progress));
    }

    // ---- tyres ------------------------------------------------------------------------------------------

    private Optional<Found> widest(String tyre, Progress progress) throws CarFileException {
        TyreSize size = document.value(List.of("parts", tyre, "tyre", "size"))
                .flatMap(text -> TyreSize.parse(text).value())
                .orElseThrow(() -> new IllegalArgumentException(tyre + " has no size"));
        if (size.isInch()) {
            throw new IllegalArgumentException(
                    "\"" + tyre + "\" has an inch size; widths are only stepped through for sizes such as 205/70R15");
        }
        int stated = (int) Math.round(size.widthMm());
        List<Integer> widths = new ArrayList<>();
        for (int width = NARROWEST + Math.floorMod(stated - NARROWEST, WIDTH_STEP);
                width <= WIDEST;
                width += WIDTH_STEP) {
            if (goesOnTheRim(tyre, renamed(size, width))) {
                widths.add(width);
            }
        }
        if (widths.isEmpty()) {
            throw new IllegalArgumentException("no other width of " + size.written() + " goes on this rim");
        }
        progress.at(0.05, "what is near the tyre");
        // A car is made of a width only when it is looked at: reading one costs more than looking.
        Car largest = withSize(tyre, renamed(size, widths.get(widths.size() - 1)));
        Set<String> focus = changed(car, largest, tyre);
        Around around = Around.of(car, largest, focus, asked);
        if (around.gaps(TrialStudy.quiet(progress)).isEmpty()) {
            return Optional.empty();
        }
        TreeMap<Double, Look> looks = new TreeMap<>();
        int low = -1;
        int high = widths.size();
        int steps = 1 + (int) Math.ceil(Math.log(widths.size() + 1) / Math.log(2));
        int done = 0;
        while (high - low > 1) {
            int middle = done == 0 && widths.contains(stated) ? widths.indexOf(stated) : (low + high) / 2;
            int width = widths.get(middle);
            progress.at(Math.min(0.99, (done + 0.5) / steps), renamed(size, width));
            Car with = width == stated
                    ? car
                    : width == widths.get(widths.size() - 1) ? largest : withSize(tyre, renamed(size, width));
            Optional<List<GapRow>> rows = around.gapsWith(
                    with.parts().stream()
                            .filter(part -> focus.contains(part.name()))
                            .toList(),
                    TrialStudy.quiet(progress));
            if (rows.isEmpty()) {
                return Optional.empty();
            }
            Look look = look(width, renamed(size, width), rows.get());
            looks.put((double) width, look);
            if (look.fits()) {
                low = middle;
            } else {
                high = middle;
            }
            done++;
        }
        Optional<Double> most = low < 0 ? Optional.empty() : Optional.of((double) widths.get(low));
        return Optional.of(new Found(
                Question.WIDEST_TYRE,
                tyre,
                stated,
                most.isEmpty() ? Optional.empty() : Optional.of((double) widths.get(0)),
                most,
                low < 0 ? "" : renamed(size, widths.get(low)),
                high == widths.size(),
                List.copyOf(looks.values()),
                List.of(),
                WIDTH_STEP));
    }

    private static String renamed(TyreSize size, int width) {
        return size.written().replaceFirst("^\\d+", Integer.toString(width));
    }

    /** Whether there is such a size, and the rim is as wide as it asks for. */
    private boolean goesOnTheRim(String tyre, String size) {
        TyreSize other = TyreSize.parse(size).value().orElse(null);
        if (other == null) {
            return false;
        }
        double rim = document.value(List.of("parts", tyre, "tyre", "rim width"))
                .flatMap(text -> Length.parse(text, car.unit()).value())
                .map(Length::mm)
                .orElseGet(() -> tyres.measuringRimMm(other).orElse(0));
        return rim >= other.widthMm() / 2 && rim <= other.widthMm() * 1.25;
    }

    private Car withSize(String tyre, String size) throws CarFileException {
        return tried(
                new Change.OtherTyre(tyre, Optional.of(size), Optional.empty(), Optional.empty(), Optional.empty()));
    }

    private Car tried(Change change) throws CarFileException {
        return TrialCar.of(measured, new Trial("find", List.of(change))).car();
    }

    /** The part, and those that follow it as its mirror. */
    private static Set<String> changed(Car from, Car to, String part) {
        Set<String> names = new HashSet<>(Set.of(part));
        for (Car.Part other : to.parts()) {
            Optional<Shape> before = from.part(other.name()).map(Car.Part::shape);
            if (!before.equals(Optional.of(other.shape()))) {
                names.add(other.name());
            }
        }
        return names;
    }

    private Optional<Found> backspacing(String tyre, double resolutionMm, Progress progress) throws CarFileException {
        double rim = document.value(List.of("parts", tyre, "tyre", "rim width"))
                .flatMap(text -> Length.parse(text, car.unit()).value())
                .map(Length::mm)
                .orElseThrow(() -> new IllegalArgumentException("write the rim width of \"" + tyre + "\" first"));
        double wide = tyres.overallRimWidthMm(rim);
        double stated = document.value(List.of("parts", tyre, "tyre", "backspacing"))
                .flatMap(text -> Length.parse(text, car.unit()).value())
                .map(Length::mm)
                .orElseGet(() -> wide / 2
                        + document.value(List.of("parts", tyre, "tyre", "offset"))
                                .flatMap(text -> Length.parse(text, car.unit()).value())
                                .map(Length::mm)
                                .orElse(0.0));
        double least = RIM_LEFT_MM;
        double most = wide - RIM_LEFT_MM;
        Set<String> focus = changed(car, with(tyre, stated > (least + most) / 2 ? least : most), tyre);
        Asked wider = new Asked(asked.toleranceMm(), asked.watchMm() + wide, asked.mostBoxes(), asked.threads());
        Around around = Around.of(car, focus, wider);
        if (around.gaps(TrialStudy.quiet(progress)).isEmpty()) {
            return Optional.empty();
        }
        TreeMap<Double, Look> looks = new TreeMap<>();
        Walk walk = new Walk(tyre, around, focus, looks, progress, resolutionMm);
        double at = Math.max(least, Math.min(most, stated));
        Double start = walk.margin(at) >= 0 ? at : null;
        // A wheel shifted by so much changes no gap by more: what is short by d stays short until d further on.
        for (int way = -1; way <= 1 && start == null; way += 2) {
            double value = at;
            while (start == null && value >= least && value <= most && !progress.cancelled()) {
                double margin = walk.margin(value);
                if (margin >= 0) {
                    start = value;
                } else {
                    value += way * Math.max(-margin, resolutionMm);
                }
            }
        }
        if (progress.cancelled()) {
            return Optional.empty();
        }
        Optional<Double> from = Optional.empty();
        Optional<Double> to = Optional.empty();
        if (start != null) {
            from = Optional.of(walk.end(start, -1, least));
            to = Optional.of(walk.end(start, 1, most));
        }
        if (progress.cancelled()) {
            return Optional.empty();
        }
        return Optional.of(new Found(
                Question.BACKSPACING,
                tyre,
                stated,
                from,
                to,
                "",
                from.isPresent() && from.get() <= least && to.orElse(0.0) >= most,
                List.copyOf(looks.values()),
                List.of(),
                resolutionMm));
    }

    private Car with(String tyre, double backspacingMm) throws CarFileException {
        return tried(new Change.OtherTyre(
                tyre, Optional.empty(), Optional.empty(), Optional.of(backspacingMm), Optional.empty()));
    }

    /** Values of a wheel's backspacing, measured when they are first asked for. */
    private final class Walk {
        private final String tyre;
        private final Around around;
        private final Set<String> focus;
        private final Map<Double, Look> looks;
        private final Progress progress;
        private final double resolutionMm;

        Walk(
                String tyre,
                Around around,
                Set<String> focus,
                Map<Double, Look> looks,
                Progress progress,
                double resolutionMm) {
            this.tyre = tyre;
            this.around = around;
            this.focus = focus;
            this.looks = looks;
            this.progress = progress;
            this.resolutionMm = resolutionMm;
        }

        /** By how much every gap keeps its rule at least, mm; negative when one does not. */
        double margin(double value) throws CarFileException {
            progress.at(Math.min(0.95, looks.size() / (double) MOST_STEPS), "backspacing " + Math.round(value) + " mm");
            Car with = with(tyre, value);
            List<GapRow> rows = around.gapsWith(
                            with.parts().stream()
                                    .filter(part -> focus.contains(part.name()))
                                    .toList(),
                            TrialStudy.quiet(progress))
                    .orElse(List.of());
            looks.put(value, look(value, "", rows));
            return rows.stream()
                    .mapToDouble(row -> row.least().floorMm() - row.requiredMm())
                    .min()
                    .orElse(0);
        }

        /** Goes from a value that fits to the last one that does. */
        double end(double start, int way, double limit) throws CarFileException {
            double fits = start;
            double margin = margin(start);
            while (!progress.cancelled()) {
                double next = fits + way * Math.max(margin, resolutionMm);
                if (way * (next - limit) >= 0) {
                    double last = margin(limit);
                    if (last >= 0) {
                        return limit;
                    }
                    next = limit;
                }
                double there = margin(next);
                if (there >= 0) {
                    fits = next;
                    margin = there;
                    continue;
                }
                double fails = next;
                while (Math.abs(fails - fits) > resolutionMm && !progress.cancelled()) {
                    double middle = (fits + fails) / 2;
                    if (margin(middle) >= 0) {
                        fits = middle;
                    } else {
                        fails = middle;
                    }
                }
                return fits;
            }
            return fits;
        }
    }

    // ---- all --------------------------------------------------------------------------------------------

    private static boolean keeps(GapRow row) {
        return row.least().floorMm() >= row.requiredMm();
    }

    private static List<GapRow> without(List<GapRow> rows, Set<List<String>> out) {
        return rows.stream()
                .filter(row -> !out.contains(List.of(row.first(), row.second())))
                .toList();
    }

    private static Look look(double value, String label, List<GapRow> rows) {
        return new Look(
                value,
                label,
                rows.stream().allMatch(FitSearch::keeps),
                rows.stream().min(Comparator.comparingDouble(GapRow::marginMm)));
    }
}
