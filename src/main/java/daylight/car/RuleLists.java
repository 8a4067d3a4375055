package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.units.Length;
import daylight.units.Unit;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** The rule lists that come with the program, and the strict reader of any. */
public final class RuleLists {
    private static final String FOLDER = "/models/rule-lists/";
    /** A name that ends so is a file beside the car file. */
    private static final String FILE_ENDING = ".yaml";
    /** More tyres no car of ours has. */
    private static final double MOST_TYRES = 4;

    private RuleLists() {}

    /**
     * Returns the lists that come with the program, the default first.
     *
     * @throws IllegalStateException if one is broken
     */
    public static List<RuleList> shipped() {
        List<RuleList> lists = new ArrayList<>();
        for (String line : resource("index.txt").lines().toList()) {
            String stem = line.strip();
            if (!stem.isEmpty() && !stem.startsWith("#")) {
                try {
                    lists.add(read(stem + FILE_ENDING, resource(stem + FILE_ENDING)));
                } catch (CarFileException e) {
                    throw new IllegalStateException(
                            "a rule list of the program is broken; please report this: " + e.getMessage(), e);
                }
            }
        }
        return lists;
    }

    private static String resource(String file) {
        return Layouts.resource(FOLDER + file)
                .orElseThrow(() -> new IllegalStateException(
                        "models/rule-lists/" + file + " is missing from the program. Please report this."));
    }

    /**
     * Reads a rule list from text.
     *
     * @param file what complaints call it
     * @throws CarFileException with every complaint in file order
     */
    public static RuleList read(String file, String text) throws CarFileException {
        Reading in = new Reading(file);
        YamlNode.Mapping root = YamlText.read(in, text).orElseThrow(() -> new CarFileException(in.complaints()));
        Fields top = Fields.of(in, root, "the rule list");
        top.need("rule list", "Write rule list: 1.").ifPresent(node -> in.number(node, "rule list", 1, 1));
        String name = top.text("name", "Write name: and what a car file calls this list.");
        String source = top.text("source", "Say where its rules were published, or common practice, no source.");
        String date = top.text("date", "Say when, or undated.");
        String mark = top.text("mark", "Say how far the source was read: seen, quoted, from memory.");
        List<Car.Rule> gaps = new ArrayList<>();
        List<RuleList.Check> checks = new ArrayList<>();
        for (YamlNode item : top.need("rules", "List them.")
                .map(node -> in.list(node, "rules", false))
                .orElse(List.of())) {
            Fields fields = Fields.of(in, item, "the rule");
            Optional<YamlNode> check = fields.maybe("check");
            // Before the figure, since a rule may have a source of its own.
            String ownSource = fields.maybeText("source").orElse(source);
            String ownDate = fields.maybeText("date").orElse(date);
            String ownMark = fields.maybeText("mark").orElse(mark);
            String clause = fields.text("clause", "Say which clause, or the rule in a few words.");
            RuleList.Citation cited = new RuleList.Citation(name, ownSource, ownDate, clause, ownMark);
            if (check.isPresent()) {
                check(in, fields, check.get(), cited).ifPresent(checks::add);
            } else {
                gap(in, fields, cited).ifPresent(gaps::add);
            }
            fields.close();
        }
        top.close();
        if (!in.clean(0)) {
            throw new CarFileException(in.complaints());
        }
        return new RuleList(name, source, date, mark, gaps, checks);
    }

    private static Optional<Car.Rule> gap(Reading in, Fields fields, RuleList.Citation cited) {
        int mark = in.mark();
        Optional<YamlNode> between = fields.need("between", "Write between: [one, other], or check: and what.");
        List<String> two = between.map(node -> in.texts(node, "between")).orElse(List.of());
        if (between.isPresent() && in.clean(mark) && two.size() != 2) {
            in.complain(
                    Kind.WRONG_COUNT,
                    between.get().place(),
                    "between has " + two.size() + (two.size() == 1 ? " name" : " names"),
                    "",
                    "Write two, each a kind of part or any.");
        }
        double least = fields.need("at least", "Write at least: and the gap.")
                .map(node -> in.notNegative(node, "at least"))
                .orElse(0.0);
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        String from = cited.clause() + "; " + cited.source()
                + (cited.source().equals(cited.mark()) ? "" : ", " + cited.date() + "; " + cited.mark());
        return Optional.of(new Car.Rule(two.get(0), two.get(1), least, Optional.of(from), Optional.of(cited.list())));
    }

    private static Optional<RuleList.Check> check(Reading in, Fields fields, YamlNode node, RuleList.Citation cited) {
        int mark = in.mark();
        String word = in.text(node, "check");
        Optional<RuleList.Kind> kind = RuleList.Kind.of(word);
        if (in.clean(mark) && kind.isEmpty()) {
            List<String> known = Arrays.stream(RuleList.Kind.values())
                    .map(RuleList.Kind::word)
                    .toList();
            in.unknown(
                    Kind.NOT_A_VALUE,
                    node,
                    "there is no check \"" + word + "\"",
                    known,
                    "Write " + Reading.oneOf(known) + ".");
        }
        List<String> parts =
                fields.maybe("parts").map(n -> in.texts(n, "parts")).orElse(List.of());
        if (kind.isEmpty()) {
            Arrays.stream(RuleList.Kind.values()).forEach(k -> fields.maybe(k.key()));
            return Optional.empty();
        }
        double figure = kind.get().figure() == RuleList.Figure.NONE
                ? 0
                : fields.need(kind.get().key(), "Write " + kind.get().key() + ": and the figure.")
                        .map(n -> figure(in, n, kind.get()))
                        .orElse(0.0);
        return in.clean(mark) ? Optional.of(new RuleList.Check(kind.get(), figure, parts, cited)) : Optional.empty();
    }

    private static double figure(Reading in, YamlNode node, RuleList.Kind kind) {
        return switch (kind.figure()) {
            case LENGTH -> in.notNegative(node, kind.key());
            case ANGLE -> in.angle(node, kind.key());
            case COUNT -> in.number(node, kind.key(), 1, MOST_TYRES);
            case SHARE -> share(in, node, kind.key());
            case NONE -> 0;
        };
    }

    /** Reads {@code 2/3} or {@code 0.5}: a number as lengths are written, so that fractions are exact. */
    private static double share(Reading in, YamlNode node, String what) {
        int mark = in.mark();
        String text = in.text(node, what);
        double share =
                Length.parse(text, Unit.MILLIMETRE).value().map(Length::mm).orElse(-1.0);
        if (in.clean(mark) && !(text.matches("[ 0-9./]+") && share > 0 && share <= 1)) {
            in.complain(
                    Kind.NOT_A_VALUE,
                    node.place(),
                    what + ": \"" + text + "\" is no share",
                    "",
                    "Write a fraction such as 2/3, or a number up to 1.");
        }
        return share;
    }

    /** Reads the lists that a car file names, of those shipped or of its own; the default when it names none. */
    static List<RuleList> named(Reading in, Optional<YamlNode> node, Optional<Path> folder, List<RuleList> shipped) {
        if (node.isEmpty()) {
            return List.of(shipped.get(0));
        }
        List<RuleList> lists = new ArrayList<>();
        for (YamlNode item : in.list(node.get(), "rule lists", true)) {
            int mark = in.mark();
            String name = in.text(item, "rule lists");
            if (!in.clean(mark)) {
                continue;
            }
            Optional<RuleList> list = name.endsWith(FILE_ENDING)
                    ? fromFile(in, item, name, folder)
                    : shipped.stream().filter(l -> l.name().equals(name)).findFirst();
            List<String> known = shipped.stream().map(RuleList::name).toList();
            if (list.isEmpty() && in.clean(mark)) {
                in.unknown(
                        Kind.UNKNOWN_LIST,
                        item,
                        "no rule list is called \"" + name + "\"",
                        known,
                        "Write " + Reading.oneOf(known) + ", or a file beside this one that ends in " + FILE_ENDING
                                + ".");
            }
            if (list.isPresent()
                    && lists.stream().anyMatch(l -> l.name().equals(list.get().name()))) {
                in.complain(
                        Kind.TWICE,
                        item.place(),
                        "the rule list \"" + list.get().name() + "\" is here twice",
                        "",
                        "Name it once.");
            } else {
                list.ifPresent(lists::add);
            }
        }
        return lists;
    }

    private static Optional<RuleList> fromFile(Reading in, YamlNode item, String name, Optional<Path> folder) {
        Optional<Path> file = name.indexOf('\0') < 0 ? folder.map(f -> f.resolve(name)) : Optional.empty();
        if (file.isEmpty() || !Files.isRegularFile(file.get())) {
            in.complain(
                    Kind.FILE,
                    item.place(),
                    "there is no file " + name + " beside the car file",
                    "",
                    "Check the name, or take a list that comes with the program.");
            return Optional.empty();
        }
        try {
            Reading decoding = new Reading(name);
            Optional<String> text = YamlText.decode(decoding, Files.readAllBytes(file.get()));
            decoding.complaints().forEach(in::add);
            return text.isEmpty() ? Optional.empty() : Optional.of(read(name, text.get()));
        } catch (CarFileException e) {
            e.complaints().forEach(in::add);
        } catch (IOException e) {
            in.complain(
                    Kind.FILE,
                    item.place(),
                    "the file " + name + " cannot be read (" + e.getClass().getSimpleName() + ")",
                    "",
                    "Check that it is a file you may read.");
        }
        return Optional.empty();
    }
}
