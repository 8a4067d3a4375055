package daylight.report;

import daylight.clearance.GapDoubts;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.clearance.Onset;
import daylight.clearance.State;
import daylight.motion.EarlierEnd;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The table of gaps for a terminal: columns of plain text, tightest first. */
public final class GapText {
    private static final String[] HEADING = {"state", "pair", "at rest", "least", "asked", "margin", "where it is least"
    };
    private static final String[] WITH_DOUBT = {
        "state", "pair", "at rest", "least", "+-", "chance", "asked", "margin", "where it is least"
    };
    private static final int FIRST_NUMBER = 2;
    /** Rows for which it is said what to measure again. */
    private static final int ADVISED = 5;

    private static final String ESCAPE = "\u001b[";

    private final GapTable table;
    private final Optional<GapDoubts> doubts;
    private final boolean inches;
    private final Wording wording;
    private final LengthFormat format;

    private GapText(GapTable table, Optional<GapDoubts> doubts, boolean inches) {
        this.table = table;
        this.doubts = doubts;
        this.inches = inches;
        this.format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        this.wording = Wording.in(format);
    }

    /**
     * Returns the table as text with a line feed after each line.
     *
     * @param inches whether lengths are shown in inches to 1/16 (else in mm to 0.1)
     * @param all whether pairs that stay further apart than the watch distance are listed too
     * @param colour whether the terminal shows colours; words say the same
     */
    public static String of(GapTable table, boolean inches, boolean all, boolean colour) {
        return of(table, Optional.empty(), inches, all, colour);
    }

    /**
     * Returns the table as text with a line feed after each line, with how sure each gap is where that is known.
     *
     * @param doubts half width of each least gap's 95 % interval and the chance that it is zero or less
     */
    public static String of(GapTable table, Optional<GapDoubts> doubts, boolean inches, boolean all, boolean colour) {
        return new GapText(table, doubts, inches).text(all, colour);
    }

    /** Returns the separate tight spots of every pair that has more than one, as lines of text. */
    public static String spots(GapTable table, boolean inches) {
        return new GapText(table, Optional.empty(), inches).spots();
    }

    private String spots() {
        StringBuilder text = new StringBuilder();
        for (GapRow row : table.rows()) {
            if (row.tightSpots().size() < 2) {
                continue;
            }
            text.append(String.format(
                    Locale.ROOT,
                    "%s / %s: nearer than %s in %d separate places\n",
                    row.first(),
                    row.second(),
                    wording.required(row.requiredMm()),
                    row.tightSpots().size()));
            for (Least spot : row.tightSpots()) {
                text.append(String.format(
                        Locale.ROOT,
                        "  %s at %s",
                        wording.gap(spot.found().distanceMm()),
                        wording.position(spot.where())));
                if (spot.proof() instanceof Least.Proof.Unproved unproved) {
                    text.append("; unproved: ").append(unproved.why());
                }
                text.append('\n');
            }
        }
        return text.isEmpty() ? "No pair is too near in more than one separate place.\n" : text.toString();
    }

    private String text(boolean all, boolean colour) {
        List<GapRow> shown =
                table.rows().stream().filter(row -> all || listed(row)).toList();
        List<String[]> cells = new ArrayList<>();
        cells.add(doubts.isPresent() ? WITH_DOUBT : HEADING);
        for (GapRow row : shown) {
            List<String> line = new ArrayList<>(List.of(
                    row.state().word(),
                    row.first() + " / " + row.second(),
                    wording.gap(row.atRideHeight().distanceMm()),
                    row.least().proof() instanceof Least.Proof.FarApart
                            ? "over " + wording.gap(table.watchMm())
                            : wording.gap(row.least().found().distanceMm()),
                    wording.required(row.requiredMm()),
                    row.least().proof() instanceof Least.Proof.FarApart ? "" : wording.gap(row.marginMm()),
                    where(row)));
            if (doubts.isPresent()) {
                line.addAll(FIRST_NUMBER + 2, doubt(row));
            }
            cells.add(line.toArray(new String[0]));
        }
        int[] width = new int[cells.get(0).length];
        for (String[] line : cells) {
            for (int c = 0; c < width.length; c++) {
                width[c] = Math.max(width[c], line[c].length());
            }
        }
        StringBuilder text = new StringBuilder();
        text.append(table.car())
                .append(" (lengths in ")
                .append(inches ? "inches" : "mm")
                .append(")\n\n");
        for (int l = 0; l < cells.size(); l++) {
            line(
                    text,
                    cells.get(l),
                    width,
                    l == 0 || !colour
                            ? Optional.empty()
                            : Optional.of(shown.get(l - 1).state()));
        }
        if (!cells.isEmpty()) {
            text.append('\n');
        }
        earlierEnds(text);
        doubts(text, shown);
        summary(text, all);
        return text.toString();
    }

    private void earlierEnds(StringBuilder text) {
        for (EarlierEnd end : table.earlierEnds()) {
            text.append("Searched to ").append(wording.earlierEnd(end)).append(".\n");
        }
        if (!table.earlierEnds().isEmpty()) {
            text.append('\n');
        }
    }

    private List<String> doubt(GapRow row) {
        Optional<GapDoubts.Row> doubt = doubts.flatMap(d -> d.of(row.first(), row.second()));
        return doubt.map(d -> List.of(
                        wording.required(d.halfWidth95Mm()),
                        SurveyWords.chance(d.doubt().chanceOfTouching())))
                .orElse(List.of("", ""));
    }

    private void doubts(StringBuilder text, List<GapRow> shown) {
        if (doubts.isEmpty()) {
            return;
        }
        for (GapRow row : shown.subList(0, Math.min(ADVISED, shown.size()))) {
            doubts.get()
                    .of(row.first(), row.second())
                    .flatMap(GapDoubts.Row::sharper)
                    .ifPresent(sharper -> text.append(row.first())
                            .append(" / ")
                            .append(row.second())
                            .append(": ")
                            .append(SurveyWords.sharper(sharper, inches))
                            .append(".\n"));
        }
        text.append("+-: the gap lies so near to what is shown 95 times in 100; chance: that the parts touch. ")
                .append(
                        doubts.get().draws() > 0
                                ? "From " + doubts.get().draws() + " cars drawn within the points' doubt. "
                                : "To first order. ")
                .append("Each part's own figures count as good to what the file says (within).\n\n");
    }

    private static boolean listed(GapRow row) {
        return !(row.least().proof() instanceof Least.Proof.FarApart) || row.state() != State.CLEAR;
    }

    private String where(GapRow row) {
        if (row.least().proof() instanceof Least.Proof.FarApart) {
            return "";
        }
        StringBuilder where = new StringBuilder(wording.position(row.least().where()));
        Optional<Onset> onset = row.touches().isPresent() ? row.touches() : row.belowRule();
        onset.filter(o -> o.share() > 0)
                .ifPresent(o -> where.append(row.touches().isPresent() ? "; touches from " : "; too near from ")
                        .append(wording.position(o.at())));
        if (row.least().proof() instanceof Least.Proof.Unproved unproved) {
            where.append("; unproved: ").append(unproved.why());
        }
        return where.toString();
    }

    private static void line(StringBuilder text, String[] cells, int[] width, Optional<State> colour) {
        StringBuilder line = new StringBuilder();
        for (int c = 0; c < cells.length; c++) {
            String pad = " ".repeat(width[c] - cells[c].length());
            boolean right = c >= FIRST_NUMBER && c < width.length - 1;
            String cell = right ? pad + cells[c] : cells[c] + pad;
            if (c == 0 && colour.isPresent()) {
                cell = ESCAPE + code(colour.get()) + "m" + cell + ESCAPE + "0m";
            }
            line.append(cell).append("  ");
        }
        text.append(line.toString().stripTrailing()).append('\n');
    }

    /** Okabe-Ito colours: vermillion, orange, bluish green. */
    private static String code(State state) {
        return switch (state) {
            case RUB -> "1;38;2;213;94;0";
            case TIGHT -> "38;2;230;159;0";
            case CLEAR -> "38;2;0;158;115";
        };
    }

    private void summary(StringBuilder text, boolean all) {
        if (table.rows().isEmpty()) {
            text.append("No two parts move against one another, so there is no gap to find. Name what moves under ")
                    .append("mechanisms: or moves:, and put parts on its bodies (on: ...).\n");
            return;
        }
        text.append(String.format(
                Locale.ROOT,
                "%d parts, %s against one another: %d rub, %d tight, %d clear.\n",
                table.work().parts(),
                count(table.rows().size(), "pair that moves", "pairs that move"),
                count(State.RUB),
                count(State.TIGHT),
                count(State.CLEAR)));
        long far = table.rows().stream().filter(row -> !listed(row)).count();
        if (far > 0 && !all) {
            text.append(count(far, "clear pair stays", "clear pairs stay"))
                    .append(" further apart than ")
                    .append(format.print(table.watchMm()))
                    .append(" (--all lists them). ");
        }
        text.append(count(table.leftOut().size(), "pair is", "pairs are"))
                .append(" not measured (--json says why of each).\n");
        long unproved = table.rows().stream()
                .filter(row -> row.least().proof() instanceof Least.Proof.Unproved)
                .count();
        if (unproved == 0) {
            text.append(
                            "Proved over the whole travel, not samples: no position of any listed pair is nearer than shown by more than ")
                    .append(LengthFormat.decimals(Unit.MILLIMETRE, 2).print(table.toleranceMm()))
                    .append(".\n");
        } else {
            text.append(count(unproved, "pair", "pairs"))
                    .append(
                            " could not be proved over the whole travel; each says why. No position of any other listed pair is"
                                    + " nearer than shown by more than ")
                    .append(LengthFormat.decimals(Unit.MILLIMETRE, 2).print(table.toleranceMm()))
                    .append(".\n");
        }
        text.append(
                "Geometry, not strength: check each tight gap on the car itself. Never go under a car that only a jack holds.\n");
    }

    private static String count(long number, String one, String many) {
        return number + " " + (number == 1 ? one : many);
    }

    private long count(State state) {
        return table.rows().stream().filter(row -> row.state() == state).count();
    }
}
