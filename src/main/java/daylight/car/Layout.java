package daylight.car;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A kind of mechanism, as its file in {@code models/layouts} describes it: the points that a builder measures, the
 * bodies, and what holds between them. With points and limits it gives a {@link Mechanism}.
 *
 * @param name the file's name without its ending, for example {@code double-a-arm-rack}
 * @param title what a person calls it
 * @param note when to choose it
 * @param mirrors whether it describes a left corner of which a right one can be made
 * @param points what to measure, in the order of the file
 * @param bodies what moves
 * @param carriers bodies of another mechanism between which this one hangs (a shock between arm and chassis)
 * @param joints what stays true
 * @param drivers what is moved
 * @param followers bodies that follow two others
 * @param readouts what there is to read off it while it travels
 * @param example a worked example, mm and radians
 */
public record Layout(
        String name,
        String title,
        String note,
        boolean mirrors,
        List<MeasuredPoint> points,
        List<String> bodies,
        List<String> carriers,
        List<Joint> joints,
        List<Driver> drivers,
        List<Follower> followers,
        List<LayoutReadout> readouts,
        Example example) {

    public Layout {
        points = List.copyOf(points);
        bodies = List.copyOf(bodies);
        carriers = List.copyOf(carriers);
        joints = List.copyOf(joints);
        drivers = List.copyOf(drivers);
        followers = List.copyOf(followers);
        readouts = List.copyOf(readouts);
    }

    /**
     * A point to measure.
     *
     * @param measure how, in a garage, in one line
     * @param optional whether the mechanism is complete without it; whatever names it is then left out
     */
    public record MeasuredPoint(String name, String measure, boolean optional) {}

    /** A direction of the layout: fixed in the car, or from one of its points to another. */
    public sealed interface Along {
        /** The same in every car. */
        record Fixed(Direction direction) implements Along {}

        /** From one point to another. */
        record Between(String from, String to) implements Along {}
    }

    /** A joint in the words of its file. */
    public sealed interface Joint {
        /** What a message calls it. */
        String name();

        /** One of the two bodies. */
        String bodyA();

        /** The other. */
        String bodyB();

        /** The points that it names. */
        List<String> points();

        /** A ball joint at a point. */
        record Ball(String name, String bodyA, String bodyB, String at) implements Joint {
            @Override
            public List<String> points() {
                return List.of(at);
            }
        }

        /** A hinge through two points. */
        record Hinge(String name, String bodyA, String bodyB, String first, String second) implements Joint {
            @Override
            public List<String> points() {
                return List.of(first, second);
            }
        }

        /**
         * A rod between two points; {@code body} is the rod itself where parts may be fixed to it; those
         * with one name in {@code shares} hold together what one of them can hold.
         */
        record Rod(
                String name,
                String bodyA,
                String bodyB,
                String onA,
                String onB,
                Optional<String> body,
                Optional<String> shares)
                implements Joint {
            @Override
            public List<String> points() {
                return List.of(onA, onB);
            }
        }

        /** A slide through a point. */
        record Slide(String name, String bodyA, String bodyB, String at, Along along) implements Joint {
            @Override
            public List<String> points() {
                return with(along, at);
            }
        }

        /** A point of body A on a line of body B. */
        record Guide(String name, String bodyA, String bodyB, String point, String lineAt, Along along)
                implements Joint {
            @Override
            public List<String> points() {
                return with(along, point, lineAt);
            }
        }

        /** A point of body A in a plane of body B. */
        record Plane(String name, String bodyA, String bodyB, String point, Along normal, Optional<String> shares)
                implements Joint {
            @Override
            public List<String> points() {
                return with(normal, point);
            }
        }

        /** A leaf spring half from the pad of body A to an eye on body B. */
        record Leaf(String name, String bodyA, String bodyB, String pad, String eye, Mechanism.LeafModel model)
                implements Joint {
            @Override
            public List<String> points() {
                return List.of(pad, eye);
            }
        }

        private static List<String> with(Along along, String... points) {
            List<String> all = new ArrayList<>(List.of(points));
            if (along instanceof Along.Between between) {
                all.add(between.from());
                all.add(between.to());
            }
            return List.copyOf(all);
        }
    }

    /**
     * The end of a driver's range: a number, or a limit that the car file gives under its name, with a sign.
     *
     * @param limit the name, or empty
     * @param factor 1 or -1 for a limit; for a number, that number
     */
    public record End(Optional<String> limit, double factor) {
        double value(Map<String, Double> limits) {
            if (limit.isEmpty()) {
                return factor;
            }
            Double value = limits.get(limit.get());
            if (value == null) {
                throw new IllegalArgumentException("no limit is given for \"" + limit.get() + "\"");
            }
            return factor * value + 0.0;
        }
    }

    /** A driver in the words of its file. */
    public sealed interface Driver {
        /** Its name in the layout. */
        String name();

        /** The body or rod that it moves. */
        String of();

        /** The least end of its range. */
        End least();

        /** The greatest end of its range. */
        End most();

        /** The name under which several mechanisms share it, if they do. */
        Optional<String> shared();

        /** The points that it names. */
        List<String> points();

        /** A spot's height. */
        record Rise(String name, String of, String at, End least, End most, Optional<String> shared) implements Driver {
            @Override
            public List<String> points() {
                return List.of(at);
            }
        }

        /** A body along a direction. */
        record Travel(String name, String of, Along along, End least, End most, Optional<String> shared)
                implements Driver {
            @Override
            public List<String> points() {
                return Joint.with(along);
            }
        }

        /** A body about an axis. */
        record Turn(String name, String of, String first, String second, End least, End most, Optional<String> shared)
                implements Driver {
            @Override
            public List<String> points() {
                return List.of(first, second);
            }
        }

        /** A rod's length. */
        record RodLength(String name, String of, End least, End most, Optional<String> shared) implements Driver {
            @Override
            public List<String> points() {
                return List.of();
            }
        }
    }

    /** A body that aims from a point of one body at a point of another. */
    public record Follower(String body, String bodyA, String pointA, String bodyB, String pointB) {}

    /**
     * A worked example.
     *
     * @param points each point of the layout, mm
     * @param limits each limit, mm or rad
     */
    public record Example(Map<String, Spot> points, Map<String, Double> limits) {
        public Example {
            // The order of the file is kept: what is printed from it is the same on every run.
            points = Collections.unmodifiableMap(new LinkedHashMap<>(points));
            limits = Collections.unmodifiableMap(new LinkedHashMap<>(limits));
        }
    }

    /** Returns the names of the limits that a car file must give, in order; true for an angle, false for a length. */
    public Map<String, Boolean> limits() {
        Map<String, Boolean> limits = new LinkedHashMap<>();
        for (Driver driver : drivers) {
            driver.least().limit().ifPresent(limit -> limits.put(limit, driver instanceof Driver.Turn));
            driver.most().limit().ifPresent(limit -> limits.put(limit, driver instanceof Driver.Turn));
        }
        return limits;
    }

    /** Returns the names of the lengths that a car file may give: a shock's closed and open length. */
    public List<String> optionalLimits() {
        List<String> names = new ArrayList<>();
        for (LayoutReadout readout : readouts) {
            if (readout instanceof LayoutReadout.Length length) {
                length.closed().ifPresent(names::add);
                length.open().ifPresent(names::add);
            }
        }
        return names;
    }

    /**
     * Returns what there is to read off the mechanism that this layout makes of points. Parameters as for {@link
     * #mechanism(String, Map, Map, Map, boolean)}; what names a point that is not given is left out.
     */
    List<Readout> readouts(String mechanism, Map<String, Spot> spots, Map<String, String> on, boolean mirrored) {
        return new ReadoutMaker(this, mechanism, spots, on, mirrored).readouts();
    }

    /** Returns the limits that follow from lengths of {@link #optionalLimits()}; parameters as before. */
    List<Limit> limits(String mechanism, Map<String, Spot> spots, Map<String, Double> values, Map<String, String> on) {
        return new ReadoutMaker(this, mechanism, spots, on, false).limits(values);
    }

    /** Returns the mechanism of the worked example. */
    public Mechanism exampleMechanism() {
        return mechanism(name, example.points(), example.limits(), Map.of(), false);
    }

    /**
     * Returns the mechanism that this layout makes of points and limits.
     *
     * @param mechanism its name; bodies, joints and drivers that are not shared get it in front of theirs
     * @param spots the points by their names in the layout, mm in the car frame; optional ones may be missing, and
     *     then the joints, drivers and followers that name them are left out
     * @param values the limits by name, mm or rad
     */
    public Mechanism mechanism(String mechanism, Map<String, Spot> spots, Map<String, Double> values) {
        return mechanism(mechanism, spots, values, Map.of(), false);
    }

    /**
     * The same for a mirrored corner or one that hangs between other bodies.
     *
     * @param on the car's bodies for this layout's carriers; the chassis for those that are not given
     * @param mirrored whether the spots are the mirror images of a left corner: fixed directions are then mirrored
     *     and turns reversed, except those of shared drivers, which are the same thing seen from both corners
     */
    Mechanism mechanism(
            String mechanism,
            Map<String, Spot> spots,
            Map<String, Double> values,
            Map<String, String> on,
            boolean mirrored) {
        Map<String, String> carriedBy = new LinkedHashMap<>();
        carriers.forEach(carrier -> carriedBy.put(carrier, on.getOrDefault(carrier, Mechanism.GROUND)));
        Assembly make = new Assembly(mechanism, spots, carriedBy);
        List<Mechanism.Joint> madeJoints = new ArrayList<>();
        List<Mechanism.Follower> madeFollowers = new ArrayList<>();
        Set<String> left = new LinkedHashSet<>();
        for (Joint joint : joints) {
            if (!make.hasAll(joint.points())) {
                if (joint instanceof Joint.Rod rod) {
                    rod.body().ifPresent(left::add);
                }
                continue;
            }
            madeJoints.add(make.joint(joint, mirrored));
            if (joint instanceof Joint.Rod rod && rod.body().isPresent()) {
                madeFollowers.add(new Mechanism.Follower.Aim(
                        make.body(rod.body().get()),
                        make.body(rod.bodyA()),
                        make.spot(rod.onA()),
                        make.body(rod.bodyB()),
                        make.spot(rod.onB())));
            }
        }
        for (Follower follower : followers) {
            if (!make.hasAll(List.of(follower.pointA(), follower.pointB()))) {
                left.add(follower.body());
                continue;
            }
            madeFollowers.add(new Mechanism.Follower.Aim(
                    make.body(follower.body()),
                    make.body(follower.bodyA()),
                    make.spot(follower.pointA()),
                    make.body(follower.bodyB()),
                    make.spot(follower.pointB())));
        }
        List<Mechanism.Driver> madeDrivers = drivers.stream()
                .filter(driver -> make.hasAll(driver.points()))
                .map(driver -> make.driver(driver, values, mirrored))
                .toList();
        List<String> madeBodies = bodies.stream()
                .filter(body -> !left.contains(body))
                .map(make::body)
                .toList();
        return new Mechanism(mechanism, madeBodies, madeJoints, madeDrivers, madeFollowers);
    }

    /** Puts names and spots in. */
    private record Assembly(String mechanism, Map<String, Spot> spots, Map<String, String> on) {

        boolean hasAll(List<String> points) {
            return points.stream().allMatch(spots::containsKey);
        }

        Spot spot(String point) {
            Spot spot = spots.get(point);
            if (spot == null) {
                throw new IllegalArgumentException(mechanism + ": point \"" + point + "\" is not given");
            }
            return spot;
        }

        String body(String body) {
            if (body.equals(Mechanism.GROUND)) {
                return body;
            }
            String carrier = on.get(body);
            return carrier != null ? carrier : mechanism + " " + body;
        }

        Direction direction(Along along, boolean mirrored) {
            if (along instanceof Along.Between between) {
                return Direction.from(spot(between.from()), spot(between.to()));
            }
            Direction direction = ((Along.Fixed) along).direction();
            return mirrored ? direction.mirrored() : direction;
        }

        Mechanism.Joint joint(Joint joint, boolean mirrored) {
            String name = mechanism + " " + joint.name();
            String a = body(joint.bodyA());
            String b = body(joint.bodyB());
            if (joint instanceof Joint.Ball ball) {
                return new Mechanism.Joint.Ball(name, a, b, spot(ball.at()));
            } else if (joint instanceof Joint.Hinge hinge) {
                return new Mechanism.Joint.Hinge(name, a, b, spot(hinge.first()), spot(hinge.second()));
            } else if (joint instanceof Joint.Rod rod) {
                return new Mechanism.Joint.Rod(
                        name,
                        a,
                        spot(rod.onA()),
                        b,
                        spot(rod.onB()),
                        rod.shares().orElse(""));
            } else if (joint instanceof Joint.Slide slide) {
                return new Mechanism.Joint.Slide(name, a, b, spot(slide.at()), direction(slide.along(), mirrored));
            } else if (joint instanceof Joint.Guide guide) {
                return new Mechanism.Joint.Guide(
                        name, a, spot(guide.point()), b, spot(guide.lineAt()), direction(guide.along(), mirrored));
            } else if (joint instanceof Joint.Leaf leaf) {
                return new Mechanism.Joint.Leaf(name, a, spot(leaf.pad()), b, spot(leaf.eye()), leaf.model());
            } else if (joint instanceof Joint.Plane plane) {
                return new Mechanism.Joint.Plane(
                        name,
                        a,
                        spot(plane.point()),
                        b,
                        direction(plane.normal(), mirrored),
                        plane.shares().orElse(""));
            }
            throw new IllegalStateException("a joint of no known kind: " + joint + ". Please report this.");
        }

        Mechanism.Driver driver(Driver driver, Map<String, Double> values, boolean mirrored) {
            String name = driver.shared().orElse(mechanism + " " + driver.name());
            double least = driver.least().value(values);
            double most = driver.most().value(values);
            boolean turned = mirrored && driver.shared().isEmpty();
            if (driver instanceof Driver.Rise rise) {
                return new Mechanism.Driver.Rise(name, body(rise.of()), spot(rise.at()), least, most);
            } else if (driver instanceof Driver.Travel travel) {
                return new Mechanism.Driver.Travel(
                        name, body(travel.of()), direction(travel.along(), turned), least, most);
            } else if (driver instanceof Driver.Turn turn) {
                Spot first = spot(turned ? turn.second() : turn.first());
                Spot second = spot(turned ? turn.first() : turn.second());
                return new Mechanism.Driver.Turn(name, body(turn.of()), first, second, least, most);
            } else if (driver instanceof Driver.RodLength length) {
                return new Mechanism.Driver.RodLength(name, mechanism + " " + length.of(), least, most);
            }
            throw new IllegalStateException("a driver of no known kind: " + driver + ". Please report this.");
        }
    }
}
