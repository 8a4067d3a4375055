package daylight.bench;

import java.util.List;
import java.util.Optional;

/**
 * What a form asks for a part of some shape: the keys of the car file, in words.
 *
 * @param shape the key of the shape in the car file
 * @param words what the shape is
 * @param fields what is asked, in order
 */
record PartForm(String shape, String words, List<Field> fields) {

    /** How a field is written. */
    enum Writing {
        /** A length, a word, a name. */
        VALUE,
        /** A spot: ahead, left, up; or a point's name. */
        SPOT,
        /** Spots or pairs of numbers, one in a line. */
        LINES
    }

    /**
     * One thing that is asked.
     *
     * @param key the key in the car file
     * @param beside whether the key stands beside the shape's own, not inside it
     * @param hint what is meant, in a few words
     */
    record Field(String key, Writing writing, boolean beside, String hint) {
        /** The path of keys within the part. */
        List<String> path(String shape) {
            return beside ? List.of(key) : List.of(shape, key);
        }
    }

    PartForm {
        fields = List.copyOf(fields);
    }

    private static Field value(String key, String hint) {
        return new Field(key, Writing.VALUE, false, hint);
    }

    private static Field spot(String key, String hint) {
        return new Field(key, Writing.SPOT, false, hint);
    }

    private static Field lines(String key, String hint) {
        return new Field(key, Writing.LINES, false, hint);
    }

    private static Field beside(String key, String hint) {
        return new Field(key, Writing.VALUE, true, hint);
    }

    private static final String SPOT_HINT = "ahead, left, up; or a point's name";

    /** The forms in the order in which they are offered. */
    static final List<PartForm> ALL = List.of(
            new PartForm(
                    "tube",
                    "Tube or rod",
                    List.of(
                            value("od", "outside diameter"),
                            lines("through", "ends and corners, one in a line: " + SPOT_HINT),
                            value("centreline radius", "of its bends; may be left out"))),
            new PartForm(
                    "cylinder",
                    "Cylinder",
                    List.of(
                            spot("from", SPOT_HINT),
                            spot("to", SPOT_HINT),
                            value("diameter", "outside"),
                            value("inside diameter", "where it is hollow"))),
            new PartForm(
                    "box",
                    "Box",
                    List.of(
                            spot("from corner", SPOT_HINT),
                            spot("to corner", "the corner across"),
                            spot("centre", "instead of the corners, with size"),
                            spot("size", "long, wide, high"))),
            new PartForm(
                    "plate",
                    "Plate",
                    List.of(
                            value("thick", "thickness"),
                            lines("outline", "corners on the plate, one in a line: along, up"),
                            lines("corners on car", "where the first three corners are, one in a line"),
                            value("towards", "side on which the thickness lies: left, up, forward ..."))),
            new PartForm("ball", "Ball", List.of(spot("centre", SPOT_HINT), value("diameter", "outside"))),
            new PartForm(
                    "tyre",
                    "Tyre and wheel",
                    List.of(
                            value("size", "as on the side wall, such as 205/70R15"),
                            value("rim width", "between the bead seats, such as 7 in"),
                            value("backspacing", "inner edge of the rim to the mounting face"),
                            value("offset", "instead of backspacing; positive outboard"),
                            spot("centre", "middle of the rim; the wheel centre where left out"),
                            value("spacer", "between hub and wheel"))),
            new PartForm(
                    "hull",
                    "Lump through corners",
                    List.of(lines("corners", "one in a line: " + SPOT_HINT), value("rounding", "of its edges"))),
            new PartForm(
                    "turned",
                    "Turned part",
                    List.of(
                            spot("centre", SPOT_HINT),
                            value("axis", "direction: left, up, forward ..."),
                            lines("profile", "corners, one in a line: along the axis, radius"),
                            value("rounding", "of its edges"))),
            new PartForm(
                    "mesh",
                    "Scan or drawing from a file",
                    List.of(
                            beside("mesh", "file beside the car file: .stl, .obj, .ply, .glb"),
                            beside("unit", "in which it is drawn: mm, cm, in, m"))),
            new PartForm("mirror", "Mirror image of another part", List.of(beside("mirror", "the other part's name"))));

    /** Returns the form of a shape; nothing for those that are written in the file alone. */
    static Optional<PartForm> of(String shape) {
        return ALL.stream().filter(form -> form.shape().equals(shape)).findFirst();
    }

    @Override
    public String toString() {
        return words;
    }
}
