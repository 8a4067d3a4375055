package daylight.car;

import daylight.geometry.Direction;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The other side of a car: names with left and right exchanged, shapes seen in the body centre plane. */
final class Sides {
    private static final Map<String, String> OTHER = Map.ofEntries(
            Map.entry("left", "right"),
            Map.entry("right", "left"),
            Map.entry("lf", "rf"),
            Map.entry("rf", "lf"),
            Map.entry("fl", "fr"),
            Map.entry("fr", "fl"),
            Map.entry("lh", "rh"),
            Map.entry("rh", "lh"),
            // rr may be right rear or rear right; lr and rl both come back as rr.
            Map.entry("lr", "rr"),
            Map.entry("rl", "rr"),
            Map.entry("rr", "lr"));
    private static final Pattern WORD = Pattern.compile("\\p{Alpha}+");

    private Sides() {}

    /** Returns a name with the words for the sides exchanged; the same name if it has none. */
    static String otherName(String name) {
        Matcher matcher = WORD.matcher(name);
        StringBuilder other = new StringBuilder();
        while (matcher.find()) {
            String word = matcher.group();
            String swapped = OTHER.get(word.toLowerCase(Locale.ROOT));
            if (swapped == null) {
                swapped = word;
            } else if (word.equals(word.toUpperCase(Locale.ROOT))) {
                swapped = swapped.toUpperCase(Locale.ROOT);
            } else if (Character.isUpperCase(word.charAt(0))) {
                swapped = swapped.substring(0, 1).toUpperCase(Locale.ROOT) + swapped.substring(1);
            }
            matcher.appendReplacement(other, swapped);
        }
        return matcher.appendTail(other).toString();
    }

    /** Returns the mirror image of a shape in the body centre plane. */
    static Shape mirrored(Shape shape) {
        if (shape instanceof Shape.Ball ball) {
            return new Shape.Ball(ball.centre().mirrored(), ball.radiusMm());
        } else if (shape instanceof Shape.Tube tube) {
            return new Shape.Tube(mirrored(tube.through()), tube.outsideDiameterMm(), tube.bendRadiusMm());
        } else if (shape instanceof Shape.Box box) {
            return new Shape.Box(
                    box.centre().mirrored(),
                    box.along().mirrored(),
                    box.across().mirrored(),
                    box.lengthMm(),
                    box.widthMm(),
                    box.heightMm());
        } else if (shape instanceof Shape.Plate plate) {
            // along x up of the image points against the image of along x up, so the image's lower face is the
            // image of the upper one.
            Direction thick = cross(plate.along(), plate.up());
            return new Shape.Plate(
                    plate.origin().along(thick, plate.thicknessMm()).mirrored(),
                    plate.along().mirrored(),
                    plate.up().mirrored(),
                    plate.thicknessMm(),
                    plate.outline(),
                    plate.holes());
        } else if (shape instanceof Shape.Turned turned) {
            return new Shape.Turned(
                    turned.centre().mirrored(), turned.axis().mirrored(), turned.profile(), turned.roundingMm());
        } else if (shape instanceof Shape.Hull hull) {
            return new Shape.Hull(mirrored(hull.corners()), hull.roundingMm());
        } else if (shape instanceof Shape.Mesh mesh) {
            List<Integer> turnedRound = new ArrayList<>(mesh.triangles().size());
            for (int i = 0; i < mesh.triangles().size(); i += 3) {
                turnedRound.add(mesh.triangles().get(i));
                turnedRound.add(mesh.triangles().get(i + 2));
                turnedRound.add(mesh.triangles().get(i + 1));
            }
            return new Shape.Mesh(mirrored(mesh.corners()), turnedRound);
        } else if (shape instanceof Shape.Group group) {
            return new Shape.Group(group.members().stream().map(Sides::mirrored).toList());
        }
        throw new IllegalStateException("a shape of no known kind: " + shape + ". Please report this.");
    }

    /** Returns the mirror image of a flexible line, on the other side's bodies. */
    static Car.Hose mirrored(
            Car.Hose hose, String name, List<String> kinds, Optional<String> note, UnaryOperator<String> otherSide) {
        return new Car.Hose(
                name,
                kinds.isEmpty() ? hose.kinds() : kinds,
                mirrored(hose.from(), otherSide),
                mirrored(hose.to(), otherSide),
                hose.clips().stream()
                        .map(clip -> new Car.Hose.Clip(
                                otherSide.apply(clip.body()),
                                clip.at().mirrored(),
                                clip.along().mirrored(),
                                clip.afterMm(),
                                clip.slides()))
                        .toList(),
                hose.freeLengthMm(),
                hose.outsideDiameterMm(),
                hose.leastBendRadiusMm(),
                hose.radiusToInside(),
                hose.greatestTwistRad(),
                hose.stockLengthsMm(),
                note.or(hose::note));
    }

    private static Car.Hose.Fitting mirrored(Car.Hose.Fitting fitting, UnaryOperator<String> otherSide) {
        return new Car.Hose.Fitting(
                otherSide.apply(fitting.body()),
                fitting.at().mirrored(),
                fitting.leaves().mirrored(),
                fitting.straightMm(),
                fitting.swivels(),
                fitting.turnsAbout().map(Direction::mirrored));
    }

    /** Returns a x b of two directions at right angles. */
    static Direction cross(Direction a, Direction b) {
        return Direction.of(
                a.y() * b.z() - a.z() * b.y(), a.z() * b.x() - a.x() * b.z(), a.x() * b.y() - a.y() * b.x());
    }

    private static List<Spot> mirrored(List<Spot> spots) {
        return spots.stream().map(Spot::mirrored).toList();
    }
}
