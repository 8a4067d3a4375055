package daylight.motion;

import daylight.car.Car;
import daylight.car.Limit;
import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/** Describes a car anew after its bodies have moved: everything that a body carries where the body has taken it. */
final class RestatedCar {
    private final Car car;
    private final Function<String, Pose> poses;

    private RestatedCar(Car car, Function<String, Pose> poses) {
        this.car = car;
        this.poses = poses;
    }

    /**
     * @param poses where each body is, the chassis and bodies with play included
     * @param mechanisms the car's mechanisms, described anew
     */
    static Car of(Car car, Function<String, Pose> poses, List<Mechanism> mechanisms) {
        return new RestatedCar(car, poses).with(mechanisms);
    }

    private Car with(List<Mechanism> mechanisms) {
        Map<Spot, String> carriers = carriers();
        return new Car(
                car.name(),
                car.reference(),
                car.datum(),
                car.inches(),
                car.points().stream().map(point -> point(point, carriers)).toList(),
                // Tape and mirror checks were read off the car as it stood before.
                List.of(),
                mechanisms,
                car.parts().stream().map(this::part).toList(),
                car.allowances().stream().map(this::allowance).toList(),
                car.rules(),
                car.exclusions(),
                car.about(),
                car.wheels().stream().map(this::wheel).toList(),
                List.of(),
                car.readouts().stream().map(this::readout).toList(),
                car.limits().stream().map(this::limit).toList(),
                car.hoses().stream().map(this::hose).toList(),
                car.judgedBy(),
                car.metal().stream().map(this::metal).toList(),
                // Trials are changes to the car as it was measured.
                List.of());
    }

    private Car.Metal metal(Car.Metal metal) {
        Pose pose = car.part(metal.part()).map(part -> pose(part.body())).orElse(Pose.RIDE_HEIGHT);
        return metal.drawn().movedBy(pose) instanceof Shape.Plate drawn
                ? new Car.Metal(metal.part(), drawn, metal.cuts(), metal.welds(), metal.keep(), metal.edgeDistanceMm())
                : metal;
    }

    private Pose pose(String body) {
        return poses.apply(body);
    }

    private Readout.End end(Readout.End end) {
        return new Readout.End(end.body(), pose(end.body()).apply(end.at()));
    }

    /** Which body a spot that a joint, a driver or a follower names goes with; a moving one before the chassis. */
    private Map<Spot, String> carriers() {
        Map<Spot, String> carriers = new HashMap<>();
        for (Mechanism mechanism : car.mechanisms()) {
            for (Mechanism.Joint joint : mechanism.joints()) {
                String moving = joint.bodyA().equals(Mechanism.GROUND) ? joint.bodyB() : joint.bodyA();
                if (joint instanceof Mechanism.Joint.Ball j) {
                    carriers.put(j.at(), moving);
                } else if (joint instanceof Mechanism.Joint.Hinge j) {
                    carriers.put(j.first(), moving);
                    carriers.put(j.second(), moving);
                } else if (joint instanceof Mechanism.Joint.Rod j) {
                    carriers.put(j.onA(), j.bodyA());
                    carriers.put(j.onB(), j.bodyB());
                } else if (joint instanceof Mechanism.Joint.Slide j) {
                    carriers.put(j.at(), j.bodyB());
                } else if (joint instanceof Mechanism.Joint.Guide j) {
                    carriers.put(j.spotOfA(), j.bodyA());
                    carriers.put(j.onLineOfB(), j.bodyB());
                } else if (joint instanceof Mechanism.Joint.Plane j) {
                    carriers.put(j.spotOfA(), j.bodyA());
                } else if (joint instanceof Mechanism.Joint.Leaf j) {
                    carriers.put(j.pad(), j.bodyA());
                    carriers.put(j.eye(), j.bodyB());
                }
            }
            for (Mechanism.Driver driver : mechanism.drivers()) {
                if (driver instanceof Mechanism.Driver.Rise rise) {
                    carriers.put(rise.spot(), rise.body());
                }
            }
            for (Mechanism.Follower follower : mechanism.followers()) {
                if (follower instanceof Mechanism.Follower.Aim aim) {
                    carriers.put(aim.onA(), aim.bodyA());
                    carriers.put(aim.onB(), aim.bodyB());
                }
            }
        }
        return carriers;
    }

    private Car.Point point(Car.Point point, Map<Spot, String> carriers) {
        Spot at = pose(carriers.getOrDefault(point.at(), Mechanism.GROUND)).apply(point.at());
        return at.equals(point.at()) ? point : new Car.Point(point.name(), at, point.withinMm(), point.note());
    }

    private Car.Part part(Car.Part part) {
        Pose pose = pose(part.body());
        return pose.equals(Pose.RIDE_HEIGHT)
                ? part
                : part.withShape(part.shape().movedBy(pose));
    }

    private Car.Allowance allowance(Car.Allowance allowance) {
        Pose pose = pose(allowance.on());
        return new Car.Allowance(
                allowance.body(),
                allowance.on(),
                allowance.plays().stream()
                        .map(play -> new Car.Allowance.Play(
                                play.name(), pose.apply(play.along()), play.leastMm(), play.greatestMm()))
                        .toList());
    }

    private Car.Wheel wheel(Car.Wheel wheel) {
        Pose pose = pose(wheel.body());
        return new Car.Wheel(
                wheel.part(),
                wheel.body(),
                pose.apply(wheel.centre()),
                pose.apply(wheel.spindle()),
                wheel.nominalDiameterMm(),
                wheel.nominalWidthMm(),
                wheel.rimDiameterMm());
    }

    private Readout readout(Readout readout) {
        if (readout instanceof Readout.Wheel wheel) {
            Pose pose = pose(wheel.body());
            return new Readout.Wheel(
                    wheel.name(),
                    wheel.body(),
                    pose.apply(wheel.centre()),
                    pose.apply(wheel.spindle()),
                    wheel.steeringAxis().map(axis -> new Readout.SteeringAxis(end(axis.lower()), end(axis.upper()))),
                    wheel.travel(),
                    wheel.steer());
        } else if (readout instanceof Readout.Length length) {
            return new Readout.Length(length.name(), end(length.from()), end(length.to()), length.shock());
        } else if (readout instanceof Readout.Shaft shaft) {
            return new Readout.Shaft(
                    shaft.name(),
                    end(shaft.from()),
                    pose(shaft.from().body()).apply(shaft.fromAxis()),
                    end(shaft.to()),
                    pose(shaft.to().body()).apply(shaft.toAxis()));
        } else if (readout instanceof Readout.Twist twist) {
            return new Readout.Twist(
                    twist.name(),
                    twist.first(),
                    twist.second(),
                    pose(twist.second()).apply(twist.axis()));
        } else if (readout instanceof Readout.Tilt tilt) {
            return new Readout.Tilt(tilt.name(), tilt.body(), pose(tilt.body()).apply(tilt.along()));
        }
        throw new IllegalStateException("a readout of no known kind: " + readout + ". Please report this.");
    }

    private Limit limit(Limit limit) {
        if (limit instanceof Limit.Shock shock) {
            return new Limit.Shock(shock.name(), end(shock.from()), end(shock.to()), shock.closedMm(), shock.openMm());
        } else if (limit instanceof Limit.Strap strap) {
            return new Limit.Strap(strap.name(), end(strap.from()), end(strap.to()), strap.longestMm());
        } else if (limit instanceof Limit.Stop stop) {
            return stop(stop);
        } else if (limit instanceof Limit.Swing swing) {
            return new Limit.Swing(
                    swing.name(),
                    swing.studBody(),
                    pose(swing.studBody()).apply(swing.stud()),
                    swing.housingBody(),
                    pose(swing.housingBody()).apply(swing.housing()),
                    swing.mostRad());
        }
        throw new IllegalStateException("a limit of no known kind: " + limit + ". Please report this.");
    }

    /**
     * A stop keeps its line on the body that carries it, and the place on that line where it is solid. Its first spot is
     * taken sideways onto the line; by how far they have passed one another does not count for a stop.
     */
    private Limit.Stop stop(Limit.Stop stop) {
        Readout.End to = end(stop.to());
        Spot from = end(stop.from()).at();
        Direction along = pose(stop.to().body()).apply(stop.along());
        double apart = (to.at().x() - from.x()) * along.x()
                + (to.at().y() - from.y()) * along.y()
                + (to.at().z() - from.z()) * along.z();
        double was = stop.from().at().distanceTo(stop.to().at());
        double gap = stop.gapMm() + apart - was;
        double squash = gap < 0 ? Math.max(0, stop.squashMm() + gap) : stop.squashMm();
        return new Limit.Stop(
                stop.name(),
                new Readout.End(stop.from().body(), to.at().along(along, -apart)),
                to,
                Math.max(0, gap),
                squash,
                stop.steering());
    }

    private Car.Hose hose(Car.Hose hose) {
        return new Car.Hose(
                hose.name(),
                hose.kinds(),
                fitting(hose.from()),
                fitting(hose.to()),
                hose.clips().stream()
                        .map(clip -> new Car.Hose.Clip(
                                clip.body(),
                                pose(clip.body()).apply(clip.at()),
                                pose(clip.body()).apply(clip.along()),
                                clip.afterMm(),
                                clip.slides()))
                        .toList(),
                hose.freeLengthMm(),
                hose.outsideDiameterMm(),
                hose.leastBendRadiusMm(),
                hose.radiusToInside(),
                hose.greatestTwistRad(),
                hose.stockLengthsMm(),
                hose.note());
    }

    private Car.Hose.Fitting fitting(Car.Hose.Fitting fitting) {
        Pose pose = pose(fitting.body());
        Optional<Direction> turnsAbout = fitting.turnsAbout().map(pose::apply);
        return new Car.Hose.Fitting(
                fitting.body(),
                pose.apply(fitting.at()),
                pose.apply(fitting.leaves()),
                fitting.straightMm(),
                fitting.swivels(),
                turnsAbout);
    }
}
