package daylight.inspection;

import daylight.car.Car;
import daylight.car.RuleList;
import daylight.car.RuleList.Check;
import daylight.car.RuleList.Citation;
import daylight.clearance.Asked;
import daylight.clearance.Crew;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.Rules;
import daylight.clearance.State;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.hose.HoseReport;
import daylight.inspection.InspectionReport.Amount;
import daylight.inspection.InspectionReport.Below;
import daylight.inspection.InspectionReport.Corner;
import daylight.inspection.InspectionReport.Finding;
import daylight.inspection.InspectionReport.Place;
import daylight.inspection.InspectionReport.Stance;
import daylight.inspection.InspectionReport.StanceKind;
import daylight.inspection.InspectionReport.Station;
import daylight.inspection.InspectionReport.TravelLow;
import daylight.inspection.InspectionReport.Under;
import daylight.inspection.InspectionReport.Verdict;
import daylight.motion.Kinematics;
import daylight.motion.RealRange;
import daylight.motion.TravelStudy;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Predicate;

/**
 * Walks round a car as an inspector would and holds it to the rule lists that its file names.
 *
 * <pre>{@code
 * GapTable gaps = GapSearch.of(car, Asked.USUAL).run(progress).orElseThrow();
 * InspectionReport report = Inspection.of(car, gaps, List.of(), progress).orElseThrow();
 * report.findings().forEach(finding -> System.out.println(finding.verdict().word() + " " + finding.what()));
 * }</pre>
 */
public final class Inspection {
    /** Places named when nothing breaks a rule: the nearest to it. */
    private static final int NEAREST = 3;

    private static final double MM_PER_METRE = 1000;

    private final Car car;
    private final GapTable table;
    private final List<HoseReport> hoses;
    private final Workspace workspace;
    private final Footing footing;
    private final Ground ground;
    private final RoadChecks road;
    private final List<RealRange> ranges;
    private final Kinematics kinematics;
    private final List<Finding> findings = new ArrayList<>();
    private final List<String> cautions = new ArrayList<>();
    private List<Below> scrub = List.of();
    private Under under = Under.NOTHING;
    private List<Corner> corners = List.of();

    private Inspection(Car car, GapTable table, List<HoseReport> hoses) {
        this.car = car;
        this.table = table;
        this.hoses = hoses;
        this.workspace = Workspace.of(car);
        this.kinematics = workspace.kinematics();
        this.footing = Footing.of(workspace);
        this.ground = new Ground(kinematics, footing);
        this.road = new RoadChecks(ground, footing);
        this.ranges = TravelStudy.ranges(car);
    }

    /**
     * Inspects a car.
     *
     * @param table its gaps, from {@code GapSearch}
     * @param hoses its flexible lines, from {@code HoseSearch}; may be empty
     * @param progress told how far the work is; may cancel it
     * @return the report, or empty if the work was cancelled
     */
    public static Optional<InspectionReport> of(Car car, GapTable table, List<HoseReport> hoses, Progress progress) {
        return new Inspection(car, table, hoses).report(progress);
    }

    private Optional<InspectionReport> report(Progress progress) {
        cautions.add(InspectionReport.ONLY_THE_AUTHORITY);
        cautions.add("This is geometry, not strength. Never go under a car that only a jack holds.");
        boolean stands = footing.stands();
        if (stands) {
            Optional<Under> found = under(progress);
            if (found.isEmpty()) {
                return Optional.empty();
            }
            under = found.get();
            if (!footing.onTheFloor) {
                cautions.add("The wheels' heights do not fit a floor at height zero; the road is taken to be half the"
                        + " tyre's design diameter below each wheel centre that does not.");
            }
        }
        corners = new TravelLeft(kinematics, footing, ranges, table).corners();
        SteeringLocks steering = new SteeringLocks(kinematics, footing, ranges);
        List<InspectionReport.Lock> locks = steering.locks();
        for (RuleList list : car.judgedBy().lists()) {
            for (Check check : list.checks()) {
                if (progress.cancelled()) {
                    return Optional.empty();
                }
                judge(check, stands, steering);
            }
        }
        gaps();
        long without =
                ground.parts().stream().filter(part -> part.kinds().isEmpty()).count();
        if (without > 0) {
            cautions.add(without + (without == 1 ? " part has" : " parts have")
                    + " no kind, so that rules for kinds of parts pass " + (without == 1 ? "it" : "them")
                    + " by; --guess-kinds shows guesses.");
        }
        findings.sort(Comparator.comparing(Finding::station));
        return Optional.of(new InspectionReport(
                car.name(),
                car.judgedBy().lists().stream().map(RuleList::name).toList(),
                findings,
                under,
                corners,
                locks,
                cautions));
    }

    // ---------------------------------------------------------------- under the car

    private Optional<Under> under(Progress progress) {
        List<Stance> stances = new ArrayList<>();
        int feet = footing.feet.size();
        boolean[] full = new boolean[feet];
        stance(stances, StanceKind.RIDE_HEIGHT, "ride height", rest(), full);
        for (int axle = 0; axle < footing.axles; axle++) {
            int number = axle;
            stance(
                    stances,
                    StanceKind.FULL_BUMP,
                    footing.axleName(axle) + " at full bump",
                    bump(foot -> foot.axle() == number),
                    full);
        }
        stance(stances, StanceKind.FULL_BUMP, "all axles at full bump", bump(foot -> true), full);
        stance(stances, StanceKind.FULL_BUMP, "left side at full bump", bump(Footing.Foot::left), full);
        stance(stances, StanceKind.FULL_BUMP, "right side at full bump", bump(foot -> !foot.left()), full);
        for (int a = 0; a < feet; a++) {
            boolean[] flat = new boolean[feet];
            flat[a] = true;
            stance(stances, StanceKind.ONE_FLAT, footing.feet.get(a).name() + " flat", rest(), flat);
            for (int b = a + 1; b < feet; b++) {
                boolean[] two = flat.clone();
                two[b] = true;
                stance(
                        stances,
                        StanceKind.TWO_FLAT,
                        footing.feet.get(a).name() + " and "
                                + footing.feet.get(b).name() + " flat",
                        rest(),
                        two);
            }
        }
        TravelLow[] lows = new TravelLow[ground.parts().size()];
        AtomicInteger done = new AtomicInteger();
        try (Crew crew = new Crew(Asked.USUAL.threads())) {
            crew.work(lows.length, next -> {
                // Engines are not thread-safe: one for each thread.
                Ground own = new Ground(workspace.kinematics(), footing);
                for (int p = next.getAsInt(); p < lows.length && !progress.cancelled(); p = next.getAsInt()) {
                    lows[p] = own.overTravel(p);
                    progress.at(done.incrementAndGet() / (double) lows.length, "looking under the car");
                }
            });
        }
        if (progress.cancelled()) {
            return Optional.empty();
        }
        List<TravelLow> over = new ArrayList<>(List.of(lows));
        over.sort(Comparator.comparingDouble(TravelLow::foundMm).thenComparing(TravelLow::part));
        scrub = road.scrub();
        List<String> unproved = over.stream()
                .filter(low -> low.floorMm() == Double.NEGATIVE_INFINITY)
                .map(TravelLow::part)
                .toList();
        if (!unproved.isEmpty()) {
            cautions.add("Found at positions only, not proved over the whole travel: the height over the road of "
                    + String.join(", ", unproved) + ".");
        }
        return Optional.of(new Under(
                stances, over, scrub.stream().filter(below -> below.byMm() > 0).toList()));
    }

    private double[] rest() {
        return new double[workspace.handles().size()];
    }

    private double[] bump(Predicate<Footing.Foot> which) {
        double[] values = rest();
        footing.feet.stream()
                .filter(foot -> foot.travel() >= 0 && which.test(foot))
                .forEach(foot -> values[foot.travel()] =
                        workspace.handles().get(foot.travel()).highest());
        return values;
    }

    private void stance(List<Stance> stances, StanceKind kind, String name, double[] values, boolean[] flat) {
        String when = kind == StanceKind.RIDE_HEIGHT ? "" : name;
        Optional<List<Place>> heights = ground.heights(values, flat, when);
        if (heights.isPresent()) {
            stances.add(new Stance(kind, name, heights.get()));
        } else {
            cautions.add("The car cannot stand with " + name + ", so that this was not looked at.");
        }
    }

    /** The lowest height of each part among stances of a kind, lowest first, of the parts that a check applies to. */
    private List<Place> lowest(Check check, StanceKind kind) {
        Map<String, Place> lowest = new LinkedHashMap<>();
        for (Stance stance : under.stances()) {
            if (stance.kind() == kind) {
                for (Place place : stance.lowest()) {
                    lowest.merge(place.part(), place, (one, other) -> other.mm() < one.mm() ? other : one);
                }
            }
        }
        return sorted(check, lowest.values().stream().toList());
    }

    private List<Place> sorted(Check check, List<Place> places) {
        return places.stream()
                .filter(place -> car.part(place.part()).filter(check::appliesTo).isPresent())
                .sorted(Comparator.comparingDouble(Place::mm).thenComparing(Place::part))
                .toList();
    }

    // ---------------------------------------------------------------- rules

    private void judge(Check check, boolean stands, SteeringLocks steering) {
        switch (check.kind()) {
            case RUNNING_CLEARANCE,
                    CLEARANCE_AT_FULL_BUMP,
                    CLEARANCE_MIDWAY,
                    CREST,
                    KERB,
                    FLAT_TYRES,
                    SCRUB_LINE,
                    BELOW_THE_RIM -> {
                if (stands) {
                    onTheRoad(check);
                } else {
                    unknown(
                            Station.UNDER,
                            check,
                            "the car file has fewer than three wheels with tyres, so that there is no road to measure from");
                }
            }
            case TRAVEL_LEFT -> travelLeft(check);
            case SHOCK_TRAVEL_LEFT -> shocks(check);
            case BUMP_STOP_FIRST -> bumpStops(check);
            case TRAVEL_KEPT, HEIGHT_CHANGE, HEIGHT_CHANGE_SHARE -> rideHeight(check);
            case WHEELS_FREE -> wheelsFree(check);
            case LOCK_TO_LOCK -> lockToLock(check, steering);
            case BRAKE_HOSES -> brakeHoses(check);
        }
    }

    private void onTheRoad(Check check) {
        switch (check.kind()) {
            case RUNNING_CLEARANCE ->
                heights(check, "running clearance", lowest(check, StanceKind.RIDE_HEIGHT), check.figure());
            case CLEARANCE_AT_FULL_BUMP -> fullBump(check);
            case FLAT_TYRES ->
                heights(
                        check,
                        check.figure() < 2 ? "one tyre flat" : "two tyres flat",
                        lowest(check, check.figure() < 2 ? StanceKind.ONE_FLAT : StanceKind.TWO_FLAT),
                        0);
            case BELOW_THE_RIM ->
                heights(check, "below the rims", lowest(check, StanceKind.RIDE_HEIGHT), road.lowestRimMm());
            case SCRUB_LINE -> {
                List<Place> places = scrub.stream()
                        .map(below ->
                                new Place(below.part(), 0.0 - below.byMm(), below.at(), "string " + below.string()))
                        .toList();
                heights(check, "scrub line", sorted(check, places), 0);
            }
            case KERB -> {
                List<Place> over = sorted(check, road.overKerb(check.figure()));
                if (over.isEmpty()) {
                    add(Station.UNDER, Verdict.PASS, check, "kerb", "nothing overhangs the tyres", List.of());
                } else {
                    heights(check, "kerb", over, check.figure());
                }
            }
            default -> {
                for (int axle = 0; axle + 1 < footing.axles; axle++) {
                    if (check.kind() == RuleList.Kind.CREST) {
                        heights(check, "crest of a ramp", sorted(check, road.crest(axle, check.figure())), 0);
                    } else {
                        List<Place> midway = sorted(check, road.midway(axle));
                        double asked = check.figure() * road.wheelbaseMm(axle) / MM_PER_METRE;
                        if (midway.isEmpty()) {
                            add(Station.UNDER, Verdict.PASS, check, "midway", "nothing is there", List.of());
                        } else {
                            heights(check, "midway between axles", midway, asked);
                        }
                    }
                }
            }
        }
    }

    /** Heights against a figure: the worst decides, and every part that is too low is named. */
    private void heights(Check check, String what, List<Place> places, double askedMm) {
        heights(check, what, places, askedMm, Double.POSITIVE_INFINITY);
    }

    /** The same where less than what was found is proved. */
    private void heights(Check check, String what, List<Place> places, double askedMm, double provedMm) {
        if (places.isEmpty()) {
            add(Station.UNDER, Verdict.PASS, check, what, "no such part", List.of());
            return;
        }
        double least = places.get(0).mm();
        List<Place> low = places.stream().filter(place -> place.mm() < askedMm).toList();
        findings.add(new Finding(
                Station.UNDER,
                low.isEmpty() && provedMm < askedMm ? Verdict.LOOK : verdict(least - askedMm, check.cited()),
                what,
                length(least),
                length(askedMm),
                low.isEmpty()
                        ? (provedMm < askedMm ? "not proved over all travel; " : "") + "lowest: "
                                + places.get(0).part()
                        : low.size() == 1 ? low.get(0).part() + " is too low" : low.size() + " parts are too low",
                low.isEmpty() ? places.subList(0, Math.min(NEAREST, places.size())) : low,
                check.cited()));
    }

    private void fullBump(Check check) {
        List<Place> places = new ArrayList<>(lowest(check, StanceKind.FULL_BUMP));
        double proved = Double.POSITIVE_INFINITY;
        for (TravelLow low : under.overTravel()) {
            places.removeIf(place -> place.part().equals(low.part()) && place.mm() > low.foundMm());
            if (places.stream().noneMatch(place -> place.part().equals(low.part()))) {
                places.add(new Place(low.part(), low.foundMm(), low.at(), "the axles anywhere in their travel"));
            }
            if (car.part(low.part()).filter(check::appliesTo).isPresent()) {
                proved = Math.min(proved, low.floorMm());
            }
        }
        heights(check, "clearance at full bump", sorted(check, places), check.figure(), proved);
    }

    private void travelLeft(Check check) {
        if (corners.isEmpty()) {
            unknown(Station.TRAVEL, check, "no wheel has a travel of its own");
        }
        for (Corner corner : corners) {
            Spot at = car.wheels().stream()
                    .filter(wheel -> wheel.part().equals(corner.wheel()))
                    .findFirst()
                    .map(Car.Wheel::centre)
                    .orElse(Spot.ORIGIN);
            double least = Math.min(corner.bumpMm(), corner.droopMm());
            findings.add(new Finding(
                    Station.TRAVEL,
                    verdict(least - check.figure(), check.cited()),
                    corner.wheel() + ", travel left",
                    length(least),
                    length(check.figure()),
                    "up ends " + corner.bumpEnds() + "; down ends " + corner.droopEnds(),
                    List.of(
                            new Place(corner.wheel(), corner.bumpMm(), at, "bump"),
                            new Place(corner.wheel(), corner.droopMm(), at, "droop")),
                    check.cited()));
        }
    }

    private void shocks(Check check) {
        List<TravelLeft.Shock> shocks = TravelLeft.shocks(car);
        if (shocks.isEmpty()) {
            unknown(
                    Station.TRAVEL,
                    check,
                    "the car file gives no shock's closed and open length (limits: under its mechanism)");
        }
        for (TravelLeft.Shock shock : shocks) {
            double least = Math.min(shock.closesMm(), shock.opensMm());
            findings.add(new Finding(
                    Station.TRAVEL,
                    verdict(least - check.figure(), check.cited()),
                    shock.name() + ", travel left",
                    length(least),
                    length(check.figure()),
                    shock.closesMm() < shock.opensMm() ? "less of it closing" : "less of it opening",
                    List.of(
                            new Place(shock.name(), shock.closesMm(), Spot.ORIGIN, "closing"),
                            new Place(shock.name(), shock.opensMm(), Spot.ORIGIN, "opening")),
                    check.cited()));
        }
    }

    private void bumpStops(Check check) {
        List<String> without = corners.stream()
                .filter(corner -> !corner.onStop())
                .map(corner -> corner.wheel() + " (" + corner.bumpEnds() + ")")
                .toList();
        if (corners.isEmpty()) {
            unknown(Station.TRAVEL, check, "no wheel has a travel of its own");
        } else if (without.isEmpty()) {
            add(Station.TRAVEL, Verdict.PASS, check, "bump stops", "every wheel meets its bump stop first", List.of());
        } else {
            add(
                    Station.TRAVEL,
                    Verdict.LOOK,
                    check,
                    "bump stops",
                    "not said to be met first (limits: bump stop): " + String.join(", ", without),
                    List.of());
        }
    }

    private void rideHeight(Check check) {
        if (car.judgedBy().changes().isEmpty()) {
            add(
                    Station.TRAVEL,
                    Verdict.PASS,
                    check,
                    check.kind().word(),
                    "the car file tells of no change (ride height changed:)",
                    List.of());
        }
        for (Car.HeightChange change : car.judgedBy().changes()) {
            String what = check.kind().word() + (change.front() ? ", front" : ", rear");
            if (check.kind() == RuleList.Kind.HEIGHT_CHANGE) {
                double by = Math.abs(change.loweredMm());
                findings.add(new Finding(
                        Station.TRAVEL,
                        verdict(check.figure() - by, check.cited()),
                        what,
                        length(by),
                        length(check.figure()),
                        change.loweredMm() < 0 ? "raised" : "lowered",
                        List.of(),
                        check.cited()));
                continue;
            }
            int axle = change.front() ? 0 : footing.axles - 1;
            for (Footing.Foot foot : footing.axle(Math.max(0, axle))) {
                corners.stream()
                        .filter(corner -> corner.wheel().equals(foot.name()))
                        .forEach(corner -> share(check, change, corner));
            }
        }
    }

    private void share(Check check, Car.HeightChange change, Corner corner) {
        double bump = change.originalBumpMm().orElse(corner.bumpMm() + change.loweredMm());
        double droop = change.originalDroopMm().orElse(corner.droopMm() - change.loweredMm());
        boolean kept = check.kind() == RuleList.Kind.TRAVEL_KEPT;
        String what = corner.wheel() + ", " + check.kind().word();
        if (!(bump > 0 && droop > 0)) {
            unknown(
                    Station.TRAVEL,
                    check,
                    corner.wheel() + " would have had no travel before; write original bump: and original droop:");
            return;
        }
        double found = kept
                ? Math.min(corner.bumpMm() / bump, corner.droopMm() / droop)
                : Math.abs(change.loweredMm()) / (change.loweredMm() > 0 ? bump : droop);
        double margin = kept ? found - check.figure() : check.figure() - found;
        double doubt = car.about().withinMm() / Math.min(bump, droop);
        findings.add(new Finding(
                Station.TRAVEL,
                margin < 0 ? Verdict.FAIL : margin < doubt ? Verdict.LOOK : Verdict.PASS,
                what,
                Optional.of(new Amount(found, RuleList.Figure.SHARE)),
                Optional.of(new Amount(check.figure(), RuleList.Figure.SHARE)),
                kept
                        ? (corner.bumpMm() / bump <= corner.droopMm() / droop
                                ? "less of it in bump"
                                : "less of it in droop")
                        : (change.loweredMm() > 0 ? "lowered, of the bump travel" : "raised, of the droop travel"),
                List.of(
                        new Place(corner.wheel(), corner.bumpMm(), Spot.ORIGIN, "bump now"),
                        new Place(corner.wheel(), bump, Spot.ORIGIN, "bump before"),
                        new Place(corner.wheel(), corner.droopMm(), Spot.ORIGIN, "droop now"),
                        new Place(corner.wheel(), droop, Spot.ORIGIN, "droop before")),
                check.cited()));
    }

    private void wheelsFree(Check check) {
        List<GapRow> rows = table.rows().stream()
                .filter(row -> isWheel(row.first()) || isWheel(row.second()))
                .sorted(Comparator.comparingDouble(row -> row.least().found().distanceMm()))
                .toList();
        if (rows.isEmpty()) {
            unknown(Station.TRAVEL, check, "no wheel moves against another part");
            return;
        }
        List<GapRow> touching = rows.stream()
                .filter(row -> row.least().found().distanceMm() <= 0)
                .toList();
        // A line's rows are never proved; what was found of them counts.
        boolean unsure = rows.stream()
                .filter(row -> car.part(row.first()).isPresent()
                        && car.part(row.second()).isPresent())
                .anyMatch(row -> row.least().floorMm() <= 0);
        List<GapRow> shown = touching.isEmpty() ? rows.subList(0, Math.min(NEAREST, rows.size())) : touching;
        double least = rows.get(0).least().found().distanceMm();
        findings.add(new Finding(
                Station.TRAVEL,
                !touching.isEmpty()
                        ? Verdict.FAIL
                        : unsure || least < car.about().withinMm() ? Verdict.LOOK : Verdict.PASS,
                "wheels free over all travel and lock",
                length(least),
                length(0),
                touching.isEmpty() ? "nearest: " + pair(rows.get(0)) : touching.size() + " touch",
                shown.stream().map(this::place).toList(),
                check.cited()));
    }

    private boolean isWheel(String part) {
        return car.wheels().stream().anyMatch(wheel -> wheel.part().equals(part));
    }

    private static String pair(GapRow row) {
        return row.first() + " / " + row.second();
    }

    private Place place(GapRow row) {
        return new Place(
                pair(row),
                row.least().found().distanceMm(),
                row.least().found().onA(),
                "where it is least (daylight gaps)");
    }

    private void lockToLock(Check check, SteeringLocks steering) {
        if (steering.handles().isEmpty()) {
            unknown(Station.STEERING, check, "the car file has no steering");
            return;
        }
        List<Place> near = steering.tooNear(table);
        boolean touches = near.stream().anyMatch(place -> place.mm() <= 0);
        findings.add(new Finding(
                Station.STEERING,
                near.isEmpty() ? Verdict.PASS : touches ? Verdict.FAIL : Verdict.LOOK,
                "lock to lock at full bump, ride height and full droop",
                near.stream().map(Place::mm).min(Double::compare).flatMap(Inspection::length),
                Optional.empty(),
                near.isEmpty()
                        ? "everything keeps its rule"
                        : near.size() + (near.size() == 1 ? " pair comes" : " pairs come") + " nearer than its rule",
                near,
                check.cited()));
    }

    private void brakeHoses(Check check) {
        List<Car.Hose> brake = car.hoses().stream()
                .filter(hose -> hose.kinds().contains("brake hose"))
                .toList();
        if (brake.isEmpty()) {
            unknown(Station.LINES, check, "no brake hose is described (hose: under parts)");
        }
        for (Car.Hose hose : brake) {
            Optional<HoseReport> report = hoses.stream()
                    .filter(r -> r.hose().name().equals(hose.name()))
                    .findFirst();
            if (report.isEmpty()) {
                unknown(Station.LINES, check, hose.name() + " was not worked out (daylight hose)");
            } else {
                boolean good = report.get().troubles().isEmpty();
                add(
                        Station.LINES,
                        good ? Verdict.PASS : Verdict.FAIL,
                        check,
                        hose.name(),
                        report.get().verdict(),
                        List.of());
            }
        }
    }

    /** One finding for each list that sets the figure of any pair. */
    private void gaps() {
        Map<String, List<GapRow>> byList = new LinkedHashMap<>();
        Map<String, Citation> cited = new LinkedHashMap<>();
        for (GapRow row : table.rows()) {
            Optional<Car.Rule> rule =
                    named(row.first()).flatMap(a -> named(row.second()).flatMap(b -> Rules.of(car.rules(), a, b)));
            rule.ifPresent(r -> {
                String list = Rules.listOf(r);
                byList.computeIfAbsent(list, k -> new ArrayList<>()).add(row);
                cited.computeIfAbsent(list, k -> citation(r, list));
            });
        }
        byList.forEach((list, rows) -> {
            Citation by = cited.getOrDefault(list, new Citation(list, list, "", "", ""));
            List<GapRow> bad = rows.stream()
                    .filter(row -> row.state() != State.CLEAR)
                    .sorted(Comparator.comparingDouble(GapRow::marginMm))
                    .toList();
            boolean touch = bad.stream().anyMatch(row -> row.state() == State.RUB);
            findings.add(new Finding(
                    Station.GAPS,
                    touch ? Verdict.FAIL : bad.isEmpty() ? Verdict.PASS : isPublished(by) ? Verdict.FAIL : Verdict.LOOK,
                    "gaps by " + list,
                    bad.isEmpty()
                            ? Optional.empty()
                            : length(bad.get(0).least().found().distanceMm()),
                    bad.isEmpty() ? Optional.empty() : length(bad.get(0).requiredMm()),
                    rows.size() + " pairs, " + (bad.isEmpty() ? "all" : bad.size() + " not") + " as asked for",
                    bad.stream().map(this::place).toList(),
                    by));
        });
    }

    /** A part, or a flexible line as rules see it. */
    private Optional<Car.Part> named(String name) {
        return car.part(name)
                .or(() -> car.hoses().stream()
                        .filter(hose -> hose.name().equals(name))
                        .findFirst()
                        .map(hose -> new Car.Part(
                                name,
                                hose.from().body(),
                                hose.kinds(),
                                new Shape.Ball(hose.from().at(), hose.outsideDiameterMm()),
                                hose.note())));
    }

    private Citation citation(Car.Rule rule, String list) {
        return car.judgedBy().lists().stream()
                .filter(l -> l.name().equals(list))
                .findFirst()
                .map(l -> new Citation(list, l.source(), l.date(), "gaps", l.mark()))
                .orElseGet(() -> new Citation(
                        list,
                        rule.list().isPresent() ? list : "the builder",
                        "",
                        "gaps",
                        "common practice, no source"));
    }

    // ---------------------------------------------------------------- verdicts

    private static boolean isPublished(Citation cited) {
        return !cited.mark().startsWith("common practice");
    }

    private Verdict verdict(double marginMm, Citation cited) {
        if (marginMm < 0) {
            return isPublished(cited) ? Verdict.FAIL : Verdict.LOOK;
        }
        return marginMm < car.about().withinMm() ? Verdict.LOOK : Verdict.PASS;
    }

    private static Optional<Amount> length(double mm) {
        return Optional.of(new Amount(mm, RuleList.Figure.LENGTH));
    }

    private void unknown(Station station, Check check, String why) {
        add(station, Verdict.LOOK, check, check.kind().word(), why, List.of());
    }

    private void add(Station station, Verdict verdict, Check check, String what, String why, List<Place> places) {
        findings.add(
                new Finding(station, verdict, what, Optional.empty(), Optional.empty(), why, places, check.cited()));
    }
}
