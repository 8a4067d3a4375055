package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.car.YamlNode.Place;
import daylight.units.Angle;
import daylight.units.Length;
import daylight.units.LengthFormat;
import daylight.units.Parsed;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * One reading of one file: its name, its own unit, and the complaints so far.
 *
 * <p>After a complaint each reader gives a stand-in (an inch, the origin, an empty text), so that the rest of the
 * file is read and complained about too. Nothing is made of stand-ins: with a complaint there is no car. A check
 * that compares several values first asks {@link #clean} whether they are real.
 */
final class Reading {
    /** No car is longer; a coordinate beyond it is a slip of the point or the unit. */
    static final double FARTHEST_MM = 100_000;

    /** A sentence that lists more is not read to its end. */
    private static final int LONGEST_LIST = 12;

    private final String file;
    private final List<Complaint> complaints = new ArrayList<>();
    private Unit unit = Unit.MILLIMETRE;

    /** Lengths understood so far, by unit and text: a car file has the same few hundred again and again. */
    private final Map<String, Parsed<Length>> lengths;

    Reading(String file) {
        this(file, new HashMap<>());
    }

    /**
     * Begins another reading of the same file.
     *
     * @param lengths lengths understood in an earlier one; added to
     */
    Reading(String file, Map<String, Parsed<Length>> lengths) {
        this.file = file;
        this.lengths = lengths;
    }

    String file() {
        return file;
    }

    Unit unit() {
        return unit;
    }

    void setUnit(Unit unit) {
        this.unit = unit;
    }

    /** Returns how many complaints there are, to be given to {@link #clean} later. */
    int mark() {
        return complaints.size();
    }

    /** Returns whether nothing has been complained about since. */
    boolean clean(int mark) {
        return complaints.size() == mark;
    }

    /** Takes back what was said since then of things that contradict one another. */
    void forgiveContradictions(int mark) {
        complaints.subList(mark, complaints.size()).removeIf(complaint -> complaint.kind() == Kind.CONTRADICTION);
    }

    /** Returns the complaints in file order. */
    List<Complaint> complaints() {
        return complaints.stream().sorted().toList();
    }

    void complain(Kind kind, Place at, String found, String allowed, String advice) {
        complaints.add(new Complaint(kind, file, at.line(), at.column(), found, allowed, advice));
    }

    /** Takes over what was found in another file that this one names. */
    void add(Complaint complaint) {
        complaints.add(complaint);
    }

    /** Complains about a name that nobody knows, with the nearest that is known. */
    void unknown(Kind kind, YamlNode at, String found, Collection<String> known, String otherwise) {
        String written = at instanceof YamlNode.Scalar scalar ? scalar.text() : "";
        complain(kind, at.place(), found, "", nearest(written, known).orElse(otherwise));
    }

    /** Returns advice that names the nearest known name, if one is near. */
    static Optional<String> nearest(String written, Collection<String> known) {
        return Spelling.nearest(written, known).map(name -> "Nearest: \"" + name + "\".");
    }

    /** Returns words as a list for a sentence: {@code a, b or c}. */
    static String oneOf(Collection<String> words) {
        List<String> list = List.copyOf(words);
        if (list.size() < 2) {
            return String.join("", list);
        }
        if (list.size() > LONGEST_LIST) {
            return String.join(", ", list.subList(0, LONGEST_LIST)) + " or one of " + (list.size() - LONGEST_LIST)
                    + " more";
        }
        return String.join(", ", list.subList(0, list.size() - 1)) + " or " + list.get(list.size() - 1);
    }

    /** Reads a text; what is it for is said in {@code what}. */
    String text(YamlNode node, String what) {
        if (node instanceof YamlNode.Scalar scalar
                && !scalar.isNothing()
                && !scalar.text().isBlank()) {
            return scalar.text();
        }
        if (node instanceof YamlNode.Scalar) {
            complain(Kind.MISSING, node.place(), what + " has no value", "", "Write one after the colon.");
        } else {
            wrongKind(node, what, "one value");
        }
        return "";
    }

    void wrongKind(YamlNode node, String what, String wanted) {
        complain(
                Kind.WRONG_KIND,
                node.place(),
                what + " is " + YamlText.shortened(node.kind()),
                "",
                "Write " + wanted + " here.");
    }

    /** Reads a length that may be negative; mm. */
    double length(YamlNode node, String what) {
        int mark = mark();
        String text = text(node, what);
        if (!clean(mark)) {
            return Length.MM_PER_INCH;
        }
        Parsed<Length> parsed =
                lengths.computeIfAbsent(unit.symbol() + " " + text, written -> Length.parse(text, unit));
        if (parsed instanceof Parsed.Refused<Length> refused) {
            complain(Kind.NOT_A_LENGTH, node.place(), refused.reason(), "", refused.advice());
            return Length.MM_PER_INCH;
        }
        double mm = parsed.value().map(Length::mm).orElse(0.0);
        if (Math.abs(mm) > FARTHEST_MM) {
            complain(
                    Kind.OUT_OF_RANGE,
                    node.place(),
                    what + ": " + text + " is "
                            + LengthFormat.decimals(Unit.METRE, 0).print(mm),
                    "Lengths go up to 100 m.",
                    "Check the unit and the point.");
            return Length.MM_PER_INCH;
        }
        return mm;
    }

    /** Reads a length of more than zero; mm. */
    double positive(YamlNode node, String what) {
        return bounded(node, what, false);
    }

    /** Reads a length of zero or more; mm. */
    double notNegative(YamlNode node, String what) {
        return bounded(node, what, true);
    }

    private double bounded(YamlNode node, String what, boolean zeroAllowed) {
        int mark = mark();
        double mm = length(node, what);
        if (clean(mark) && (mm < 0 || (mm == 0 && !zeroAllowed))) {
            String written = node instanceof YamlNode.Scalar scalar ? scalar.text() : "";
            complain(
                    Kind.OUT_OF_RANGE,
                    node.place(),
                    what + ": " + written + (mm < 0 ? " is below zero" : " is nothing"),
                    "",
                    "Write " + (zeroAllowed ? "zero or more." : "more than zero."));
            return Length.MM_PER_INCH;
        }
        return mm;
    }

    /** Reads an angle; rad. */
    double angle(YamlNode node, String what) {
        int mark = mark();
        String text = text(node, what);
        if (!clean(mark)) {
            return 0;
        }
        Parsed<Angle> parsed = Angle.parse(text);
        if (parsed instanceof Parsed.Refused<Angle> refused) {
            complain(Kind.NOT_AN_ANGLE, node.place(), refused.reason(), "", refused.advice());
        }
        return parsed.value().map(Angle::rad).orElse(0.0);
    }

    /** Reads a plain number between two bounds. */
    double number(YamlNode node, String what, double least, double greatest) {
        int mark = mark();
        String text = text(node, what);
        if (!clean(mark)) {
            return least;
        }
        // A bare number of millimetres is that number.
        Optional<Double> number = text.matches("[-+.0-9]+")
                ? Length.parse(text, Unit.MILLIMETRE).value().map(Length::mm)
                : Optional.empty();
        if (number.isEmpty()) {
            complain(
                    Kind.NOT_A_VALUE,
                    node.place(),
                    what + ": \"" + text + "\" is not a number",
                    "",
                    "Write a number such as " + plain(least) + ".");
            return least;
        }
        if (number.get() < least || number.get() > greatest) {
            complain(
                    Kind.OUT_OF_RANGE,
                    node.place(),
                    what + ": " + text + " is out of range",
                    "",
                    "Write " + plain(least) + " to " + plain(greatest) + ".");
            return least;
        }
        return number.get();
    }

    private static String plain(double number) {
        return number == Math.rint(number)
                ? String.format(Locale.ROOT, "%.0f", number)
                : String.format(Locale.ROOT, "%s", number);
    }

    /** Reads {@code true} or {@code false}. */
    boolean yesOrNo(YamlNode node, String what) {
        return choice(node, what, List.of("true", "false")).equals("true");
    }

    /** Reads one of a few words. */
    String choice(YamlNode node, String what, List<String> words) {
        int mark = mark();
        String text = text(node, what);
        if (clean(mark) && !words.contains(text)) {
            complain(
                    Kind.NOT_A_VALUE,
                    node.place(),
                    what + ": \"" + text + "\" is not known",
                    "",
                    "Write " + oneOf(words) + ".");
            return words.get(0);
        }
        return clean(mark) ? text : words.get(0);
    }

    /** Reads a list; one value alone counts as a list of one where {@code loneAllowed}. */
    List<YamlNode> list(YamlNode node, String what, boolean loneAllowed) {
        if (node instanceof YamlNode.Sequence sequence) {
            return sequence.items();
        }
        if (loneAllowed && node instanceof YamlNode.Scalar scalar && !scalar.isNothing()) {
            return List.of(node);
        }
        wrongKind(node, what, "a list in brackets");
        return List.of();
    }

    /** Reads texts. */
    List<String> texts(YamlNode node, String what) {
        return list(node, what, true).stream().map(item -> text(item, what)).collect(Collectors.toList());
    }
}
