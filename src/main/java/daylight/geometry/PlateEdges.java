package daylight.geometry;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;

/**
 * What a builder calls the edges and corners of a plate as it stands on the car: top, bottom, front, rear, inboard,
 * outboard, or left and right for a plate that reaches over the middle of the car.
 *
 * <p>An edge has a word when it faces that way within 30 degrees and no other edge of the plate does that is a quarter
 * as long (the short pieces of a rounded corner do not count); else it is called by its corners, numbered from 1 in the order in which the outline is drawn: {@code edge 2-3}. The number is always
 * understood.
 */
public final class PlateEdges {
    /** The cosine of the angle within which an edge faces a way. */
    private static final double FACES = Math.cos(Math.toRadians(30));

    /** An edge shorter than this share of another takes no word from it. */
    private static final double LESSER = 0.25;

    private static final String EDGE = "edge ";

    private final List<String> names;
    private final List<String> sides;

    private PlateEdges(List<String> names, List<String> sides) {
        this.names = List.copyOf(names);
        this.sides = List.copyOf(sides);
    }

    /** Returns the names of a plate's edges. */
    public static PlateEdges of(Shape.Plate plate) {
        List<Flat> outline = plate.outline();
        int n = outline.size();
        boolean round = area(outline) > 0;
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (Flat corner : outline) {
            double y = onCar(plate, corner).y();
            least = Math.min(least, y);
            most = Math.max(most, y);
        }
        String toTheLeft = least >= 0 ? "outboard" : most <= 0 ? "inboard" : "left";
        String toTheRight = least >= 0 ? "inboard" : most <= 0 ? "outboard" : "right";
        List<String> words = new ArrayList<>();
        List<String> plain = new ArrayList<>();
        double[] lengths = new double[n];
        for (int i = 0; i < n; i++) {
            Flat a = outline.get(i);
            Flat b = outline.get((i + 1) % n);
            double length = Math.hypot(b.x() - a.x(), b.y() - a.y());
            lengths[i] = length;
            double nx = (round ? 1 : -1) * (b.y() - a.y()) / length;
            double ny = (round ? -1 : 1) * (b.x() - a.x()) / length;
            double x = nx * plate.along().x() + ny * plate.up().x();
            double y = nx * plate.along().y() + ny * plate.up().y();
            double z = nx * plate.along().z() + ny * plate.up().z();
            words.add(word(x, y, z, toTheLeft, toTheRight));
            plain.add(word(x, y, z, "left", "right"));
        }
        List<String> names = new ArrayList<>();
        List<String> sides = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            String word = words.get(i);
            boolean alone = !word.isEmpty();
            for (int j = 0; j < n; j++) {
                alone &= j == i || !words.get(j).equals(word) || lengths[j] < LESSER * lengths[i];
            }
            names.add(alone ? word + " edge" : EDGE + (i + 1) + "-" + ((i + 1) % n + 1));
            sides.add(alone ? plain.get(i) + " edge" : "");
        }
        return new PlateEdges(names, sides);
    }

    private static String word(double x, double y, double z, String left, String right) {
        if (Math.abs(z) >= FACES) {
            return z > 0 ? "top" : "bottom";
        }
        if (Math.abs(x) >= FACES) {
            return x > 0 ? "front" : "rear";
        }
        return Math.abs(y) >= FACES ? (y > 0 ? left : right) : "";
    }

    /** Returns where a place of a plate's outline is on the car, on the plate's lower face, mm. */
    public static Spot onCar(Shape.Plate plate, Flat at) {
        return plate.origin().along(plate.along(), at.x()).along(plate.up(), at.y());
    }

    /** Returns twice the area of an outline, positive when it is drawn left about. */
    static double area(List<Flat> outline) {
        double sum = 0;
        for (int i = 0; i < outline.size(); i++) {
            Flat a = outline.get(i);
            Flat b = outline.get((i + 1) % outline.size());
            sum += a.x() * b.y() - b.x() * a.y();
        }
        return sum;
    }

    /** Returns every edge's name, in order. */
    public List<String> names() {
        return names;
    }

    /** Returns what an edge is called: {@code top edge}, {@code edge 2-3}. */
    public String name(int edge) {
        return names.get(edge);
    }

    /** Returns the edge that a builder means, if there is one: by its word, or by its corners ({@code edge 2-3}). */
    public OptionalInt edge(String words) {
        String wanted = words.strip().toLowerCase(Locale.ROOT);
        for (int i = 0; i < names.size(); i++) {
            String number = EDGE + (i + 1) + "-" + ((i + 1) % names.size() + 1);
            String back = EDGE + ((i + 1) % names.size() + 1) + "-" + (i + 1);
            if (wanted.equals(names.get(i))
                    || wanted.equals(sides.get(i))
                    || wanted.equals(number)
                    || wanted.equals(back)) {
                return OptionalInt.of(i);
            }
        }
        return OptionalInt.empty();
    }

    /** Returns what a corner is called: by its two edges ({@code top inboard}), else by its number from 1. */
    public String corner(int corner) {
        int n = names.size();
        String before = names.get((corner + n - 1) % n);
        String after = names.get(corner);
        if (before.startsWith(EDGE) || after.startsWith(EDGE)) {
            return Integer.toString(corner + 1);
        }
        String one = before.substring(0, before.indexOf(' '));
        String other = after.substring(0, after.indexOf(' '));
        boolean first = one.equals("top")
                || one.equals("bottom")
                || ((one.equals("front") || one.equals("rear")) && !other.equals("top") && !other.equals("bottom"));
        return first ? one + " " + other : other + " " + one;
    }

    /** Returns the corner that a builder means, if there is one: by its edges in either order, or by its number. */
    public OptionalInt cornerCalled(String words) {
        String wanted = words.strip().toLowerCase(Locale.ROOT);
        for (int i = 0; i < names.size(); i++) {
            String name = corner(i);
            int space = name.indexOf(' ');
            String back = space < 0 ? name : name.substring(space + 1) + " " + name.substring(0, space);
            if (wanted.equals(name) || wanted.equals(back) || wanted.equals(Integer.toString(i + 1))) {
                return OptionalInt.of(i);
            }
        }
        return OptionalInt.empty();
    }
}
