package daylight.report;

import daylight.car.Car;
import daylight.clearance.GapRow;
import daylight.clearance.Least;
import daylight.geometry.Cut;
import daylight.geometry.Shape;
import daylight.trim.CutWords;
import daylight.trim.LeastCut;
import daylight.trim.MetalLeft;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** The least cut of a plate for a terminal. */
public final class CutText {
    private static final List<String> GAPS =
            List.of("state", "next to", "least", "asked", "margin", "where it is least");
    private static final String SURE = "low at 95 %";
    private static final int SURE_AT = 5;
    private static final double MM_PER_INCH = Unit.INCH.mm();

    private final LeastCut cut;
    private final boolean inches;
    private final Unit fileUnit;
    private final LengthFormat format;
    private final Wording wording;
    private final String step;

    private CutText(LeastCut cut, Unit fileUnit, boolean inches, double stepMm) {
        this.cut = cut;
        this.inches = inches;
        this.fileUnit = fileUnit;
        this.format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        this.wording = Wording.in(format);
        this.step = LengthFormat.exact(inches ? Unit.INCH : Unit.MILLIMETRE).print(stepMm);
    }

    /**
     * Returns the least cut as text.
     *
     * @param stepMm the steps in which cuts are marked, mm
     * @param colour whether the terminal shows colours; words say the same
     */
    public static String of(Car car, LeastCut cut, boolean inches, double stepMm, boolean colour) {
        return new CutText(cut, car.unit(), inches, stepMm).text(car.name(), colour);
    }

    private String text(String car, boolean colour) {
        StringBuilder text = new StringBuilder();
        text.append(car)
                .append(": ")
                .append(cut.part())
                .append(inches ? " (lengths in inches)\n\n" : " (lengths in mm)\n\n");
        text.append("As it is:\n");
        gaps(text, cut.before(), cut.doubt95Mm(), colour);
        if (cut.options().isEmpty() && cut.none().isEmpty()) {
            text.append(
                    cut.doubt95Mm().isEmpty()
                            ? "\nEvery gap of it keeps its rule: nothing has to come off.\n"
                            : "\nEvery gap of it keeps its rule over its whole 95 % interval: nothing has to come off.\n");
            return text.toString();
        }
        cut.none().ifPresent(none -> none(text, none));
        if (!cut.options().isEmpty()) {
            text.append("\nCuts that clear, the one that takes least off first; marked in steps of ")
                    .append(step)
                    .append(", rounded outwards, and proved again after rounding")
                    .append(cut.doubt95Mm().isEmpty() ? ":\n\n" : " with what each gap's 95 % interval takes off:\n\n");
            for (int i = 0; i < cut.options().size(); i++) {
                option(text, i + 1, cut.options().get(i));
            }
            text.append("After ").append(cut.options().get(0).kind().word()).append(" 1:\n");
            gaps(text, cut.options().get(0).gaps(), cut.options().get(0).doubt95Mm(), colour);
            text.append('\n');
            metal(text);
        }
        if (!cut.trouble().isEmpty()) {
            text.append("Not proved everywhere: ").append(cut.trouble()).append('\n');
        }
        text.append(
                "Geometry, not strength: whether a part still holds after a cut is for someone qualified to say.\n");
        return text.toString();
    }

    private void gaps(StringBuilder text, List<GapRow> rows, Map<String, Double> doubt95Mm, boolean colour) {
        boolean sure = !doubt95Mm.isEmpty();
        List<String[]> cells = new ArrayList<>();
        List<Optional<daylight.clearance.State>> states = new ArrayList<>();
        List<String> head = new ArrayList<>(GAPS);
        if (sure) {
            head.add(SURE_AT, SURE);
        }
        cells.add(head.toArray(new String[0]));
        states.add(Optional.empty());
        int left = 0;
        for (GapRow row : rows) {
            if (row.least().proof() instanceof Least.Proof.FarApart) {
                left++;
                continue;
            }
            String other = row.first().equals(cut.part()) ? row.second() : row.first();
            List<String> line = new ArrayList<>(List.of(
                    row.state().word(),
                    other,
                    wording.gap(row.least().found().distanceMm()),
                    wording.required(row.requiredMm()),
                    wording.gap(row.marginMm()),
                    wording.position(row.least().where())));
            if (sure) {
                line.add(SURE_AT, wording.gap(row.least().found().distanceMm() - doubt95Mm.getOrDefault(other, 0.0)));
            }
            cells.add(line.toArray(new String[0]));
            states.add(colour ? Optional.of(row.state()) : Optional.empty());
        }
        if (cells.size() > 1) {
            Columns.print(text, cells, 2, sure ? SURE_AT : SURE_AT - 1, states);
        }
        if (left > 0 || cells.size() == 1) {
            text.append("Everything else stays far away.\n");
        }
    }

    private void option(StringBuilder text, int number, LeastCut.Option option) {
        text.append("  ")
                .append(number)
                .append("  ")
                .append(CutWords.of(cut.plate(), option.marked(), CutWords.marking(format.unit())))
                .append("; takes ")
                .append(area(option.areaMm2()))
                .append(" off\n");
        text.append("     before rounding: ")
                .append(exact(cut.plate(), option.exact()))
                .append('\n');
        if (option.marked() instanceof Cut.Notch) {
            text.append("     drill or round the inner corners of a notch first: a sharp one starts a crack\n");
        }
        text.append("     to try it, under trials:  cut the ")
                .append(cut.part())
                .append(": [{trim: ")
                .append(cut.part())
                .append(", ")
                .append(inner(CutWords.yaml(cut.plate(), option.marked(), fileUnit)))
                .append("}]\n\n");
    }

    private static String inner(String yaml) {
        return yaml.substring(1, yaml.length() - 1);
    }

    private String exact(Shape.Plate plate, Cut exact) {
        return CutWords.of(plate, exact, LengthFormat.decimals(inches ? Unit.INCH : Unit.MILLIMETRE, inches ? 3 : 2));
    }

    private void none(StringBuilder text, LeastCut.None none) {
        text.append("\nNo cut that may be made clears it.\n");
        text.append("  In the way: ").append(none.blocks()).append(".\n");
        if (none.nearest().isPresent()) {
            text.append("  The nearest that may be made is ")
                    .append(exact(cut.plate(), none.nearest().get()))
                    .append("; it misses by ")
                    .append(format.print(format.notBelow(none.shortMm())))
                    .append(".\n");
        } else {
            text.append("  No cut that may be made helps at all.\n");
        }
        if (none.shift().isPresent()) {
            LeastCut.Shift shift = none.shift().get();
            text.append("  Uncut, it clears when it is moved ")
                    .append(format.print(format.notBelow(shift.byMm())))
                    .append(' ')
                    .append(shift.way())
                    .append(".\n");
        } else {
            text.append("  Moving it alone along one of the car's axes, up to 4 in, does not clear it either.\n");
        }
    }

    private void metal(StringBuilder text) {
        MetalLeft before = cut.metal();
        List<String[]> cells = new ArrayList<>();
        List<String> head = new ArrayList<>(List.of("metal left", "as it is"));
        cut.options().forEach(option -> head.add(option.kind().word()));
        cells.add(head.toArray(new String[0]));
        row(cells, "area of one face, " + (inches ? "sq in" : "mm2"), before.areaMm2(), m -> m.areaMm2(), 2);
        row(
                cells,
                "net section at its least, " + (inches ? "sq in" : "mm2"),
                before.netSectionMm2(),
                m -> m.netSectionMm2(),
                2);
        row(
                cells,
                "second moment at the weakest section, " + (inches ? "in4" : "mm4"),
                before.secondMomentMm4(),
                m -> m.secondMomentMm4(),
                4);
        row(
                cells,
                "section modulus there, " + (inches ? "in3" : "mm3"),
                before.sectionModulusMm3(),
                m -> m.sectionModulusMm3(),
                3);
        for (int h = 0; h < before.edgeDistancesMm().size(); h++) {
            List<String> line = new ArrayList<>(List.of("hole " + (h + 1) + " to the nearest edge"));
            line.add(format.print(before.edgeDistancesMm().get(h)));
            int hole = h;
            cut.options()
                    .forEach(option -> line.add(
                            hole < option.metal().edgeDistancesMm().size()
                                    ? format.print(
                                            option.metal().edgeDistancesMm().get(hole))
                                    : "gone"));
            cells.add(line.toArray(new String[0]));
        }
        Columns.print(
                text,
                cells,
                1,
                cells.get(0).length,
                cells.stream()
                        .map(line -> Optional.<daylight.clearance.State>empty())
                        .toList());
        text.append(
                before.between()
                        ? "Sections are the weakest straight ones between the holes and welds that hold it.\n"
                        : "Sections are the weakest straight ones through its middle: fewer than two holes or welds hold it.\n");
    }

    private interface Of {
        double value(MetalLeft metal);
    }

    private void row(List<String[]> cells, String what, double before, Of of, int power) {
        List<String> line = new ArrayList<>(List.of(what, number(before, power)));
        cut.options().forEach(option -> line.add(number(of.value(option.metal()), power)));
        cells.add(line.toArray(new String[0]));
    }

    private String number(double value, int power) {
        return String.format(
                Locale.ROOT, inches ? "%.4f" : "%.1f", inches ? value / Math.pow(MM_PER_INCH, power) : value);
    }

    private String area(double mm2) {
        return inches
                ? String.format(Locale.ROOT, "%.2f sq in", mm2 / MM_PER_INCH / MM_PER_INCH)
                : String.format(Locale.ROOT, "%.0f mm2", mm2);
    }
}
