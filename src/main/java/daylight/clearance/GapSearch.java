package daylight.clearance;

import daylight.car.Car;
import daylight.geometry.Gauge;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.IntStream;

/**
 * Finds every pair's least gap over the whole continuous travel of a car.
 *
 * <p>The work is shared between threads pair by pair; solved positions are shared by all pairs. The result does not
 * depend on the number of threads.
 */
public final class GapSearch {
    /** Margins this near to one another, mm, are the same: a car's two sides differ in the last digits only. */
    private static final double SAME_MARGIN_MM = 0.01;

    /** Tightest first: by state, then by margin, then by name so that ties have one order. */
    static final Comparator<GapRow> TIGHTEST_FIRST = Comparator.comparing(GapRow::state)
            .thenComparingDouble(row -> Math.rint(row.marginMm() / SAME_MARGIN_MM))
            .thenComparing(GapRow::first)
            .thenComparing(GapRow::second);

    private final Car car;
    private final Asked asked;
    private final Tools tools;
    private final Optional<Scene> earlier;
    private final Map<Question, GapRow> known;
    private volatile Optional<Scene> ready = Optional.empty();
    private final Map<Question, GapRow> answered = new ConcurrentHashMap<>();

    /** Engines of one motion, lent to whichever thread needs one and handed back: making them costs more than using. */
    private static final class Tools {
        final Kinematics kinematics;
        final ConcurrentLinkedQueue<Kinematics> engines = new ConcurrentLinkedQueue<>();
        final ConcurrentLinkedQueue<Gauge> gauges = new ConcurrentLinkedQueue<>();

        Tools(Kinematics kinematics) {
            this.kinematics = kinematics;
        }

        Kinematics engine() {
            Kinematics idle = engines.poll();
            return idle == null ? kinematics.sibling() : idle;
        }

        Gauge gauge() {
            Gauge idle = gauges.poll();
            return idle == null ? new Gauge() : idle;
        }
    }

    /**
     * All that the row of a pair depends on besides the mechanisms, the plays and what was asked. Parts compare by
     * what they say; the hash is the one worked out once per part.
     */
    private record Question(Scene.Made a, Scene.Made b, double requiredMm, String rule) {
        @Override
        public boolean equals(Object other) {
            return other instanceof Question question
                    && requiredMm == question.requiredMm
                    && rule.equals(question.rule)
                    && same(a, question.a)
                    && same(b, question.b);
        }

        @SuppressWarnings("ReferenceEquality") // the same object needs no comparing, which matters for a large mesh
        private static boolean same(Scene.Made one, Scene.Made other) {
            return one == other || (one.hash() == other.hash() && one.part().equals(other.part()));
        }

        @Override
        public int hashCode() {
            return 31 * (31 * a.hash() + b.hash()) + Double.hashCode(requiredMm);
        }
    }

    private GapSearch(Car car, Asked asked, Tools tools, Optional<Scene> earlier, Map<Question, GapRow> known) {
        this.car = car;
        this.asked = asked;
        this.tools = tools;
        this.earlier = earlier;
        this.known = known;
    }

    /**
     * Returns a search of a car.
     *
     * @throws IllegalArgumentException if the car's mechanisms cannot be compiled (the reader of car files refuses
     *     such cars)
     */
    public static GapSearch of(Car car, Asked asked) {
        return new GapSearch(car, asked, new Tools(Workspace.of(car).kinematics()), Optional.empty(), Map.of());
    }

    /**
     * Returns a search of a changed car that answers again only what the change touches: when mechanisms, plays
     * and limits are the same, solved positions are kept, and so are the rows of pairs whose parts and rule are the same.
     */
    public GapSearch changed(Car to) {
        boolean sameMotion = to.mechanisms().equals(car.mechanisms())
                && to.allowances().equals(car.allowances())
                && to.limits().equals(car.limits());
        return sameMotion ? new GapSearch(to, asked, tools, ready, answered) : of(to, asked);
    }

    /**
     * Searches all pairs.
     *
     * @param progress told how far the work is; may cancel it
     * @return the table, or empty if the work was cancelled
     * @throws IllegalArgumentException if the car cannot be compiled (the reader of car files refuses such cars)
     */
    public Optional<GapTable> run(Progress progress) {
        try (Crew crew = new Crew(asked.threads())) {
            Scene scene = makeReady(crew);
            GapRow[] rows = new GapRow[scene.pairs.size()];
            int[] order = order(scene);
            AtomicInteger done = new AtomicInteger();
            AtomicLong boxes = new AtomicLong();
            crew.work(rows.length, next -> {
                Kinematics engine = tools.engine();
                Gauge gauge = tools.gauge();
                try {
                    PairSearch search = new PairSearch(scene, asked, engine, gauge);
                    for (int n = next.getAsInt(); n < rows.length && !progress.cancelled(); n = next.getAsInt()) {
                        rows[order[n]] = row(scene, search, scene.pairs.get(order[n]));
                        progress.at(done.incrementAndGet() / (double) rows.length, "looking at every pair");
                    }
                    boxes.addAndGet(search.boxes());
                } finally {
                    tools.engines.add(engine);
                    tools.gauges.add(gauge);
                }
            });
            if (progress.cancelled()) {
                return Optional.empty();
            }
            List<GapRow> sorted = new ArrayList<>(List.of(rows));
            sorted.sort(TIGHTEST_FIRST);
            GapTable.Work work = new GapTable.Work(scene.parts.size(), boxes.get(), tools.kinematics.positions());
            return Optional.of(new GapTable(
                    car.name(),
                    sorted,
                    scene.leftOut,
                    asked.toleranceMm(),
                    asked.watchMm(),
                    work,
                    scene.workspace.earlierEnds()));
        }
    }

    /** The order in which pairs are looked at: the laborious first, so that no thread is left with one at the end. */
    private int[] order(Scene scene) {
        double[] labour = new double[scene.pairs.size()];
        for (int p = 0; p < labour.length; p++) {
            Scene.Pair pair = scene.pairs.get(p);
            if (scene.apartMm(pair) < asked.watchMm()) {
                labour[p] = (double) scene.solids[pair.a()].pieces() * scene.solids[pair.b()].pieces();
            }
        }
        return IntStream.range(0, labour.length)
                .boxed()
                .sorted(Comparator.comparingDouble(p -> -labour[p]))
                .mapToInt(Integer::intValue)
                .toArray();
    }

    private Scene makeReady(Crew crew) {
        List<Car.Part> parts = car.parts();
        Scene.Made[] made = new Scene.Made[parts.size()];
        IdentityHashMap<Car.Part, Scene.Made> before = new IdentityHashMap<>();
        earlier.ifPresent(scene -> {
            for (Scene.Made part : scene.made) {
                before.put(part.part(), part);
            }
        });
        List<Integer> fresh = new ArrayList<>();
        for (int p = 0; p < made.length; p++) {
            Scene.Made known = before.get(parts.get(p));
            if (known == null) {
                fresh.add(p);
            } else {
                made[p] = known;
            }
        }
        crew.work(fresh.size(), next -> {
            Kinematics engine = tools.engine();
            try {
                for (int n = next.getAsInt(); n < fresh.size(); n = next.getAsInt()) {
                    made[fresh.get(n)] = Scene.make(parts.get(fresh.get(n)), engine);
                }
            } finally {
                tools.engines.add(engine);
            }
        });
        Gauge gauge = tools.gauge();
        try {
            Scene scene = Scene.of(car, tools.kinematics.workspace(), made, earlier, gauge);
            ready = Optional.of(scene);
            return scene;
        } finally {
            tools.gauges.add(gauge);
        }
    }

    private GapRow row(Scene scene, PairSearch search, Scene.Pair pair) {
        Question question = new Question(scene.made[pair.a()], scene.made[pair.b()], pair.requiredMm(), pair.rule());
        GapRow row = known.get(question);
        if (row == null) {
            row = search.row(pair);
        }
        answered.put(question, row);
        return row;
    }
}
