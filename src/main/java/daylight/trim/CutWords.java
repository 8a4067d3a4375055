package daylight.trim;

import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.PlateEdges;
import daylight.geometry.Shape;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.Locale;

/** A cut said as a builder marks it out, and as the car file has it. */
public final class CutWords {
    /** A thousandth of an inch, and a hundredth of a millimetre: finer than anyone marks out. */
    private static final int INCH_PARTS = 1000;

    private static final int MM_PARTS = 100;

    private CutWords() {}

    /**
     * Returns how a cut that is marked out in whole steps is printed: as it is, whatever the steps (fractions of an
     * inch where a tape has them), never rounded to other ones.
     */
    public static LengthFormat marking(Unit unit) {
        return unit == Unit.MILLIMETRE
                ? new LengthFormat(Unit.MILLIMETRE, MM_PARTS, LengthFormat.Style.EXACT)
                : new LengthFormat(Unit.INCH, INCH_PARTS, LengthFormat.Style.EXACT);
    }

    /**
     * Returns a cut in words: {@code a straight cut from 7/8 in along the inboard edge to 1 3/8 in along the top edge,
     * both from the top inboard corner}.
     *
     * @param plate as it is before the cut
     */
    public static String of(Shape.Plate plate, Cut cut, LengthFormat format) {
        PlateEdges edges = PlateEdges.of(plate);
        int n = plate.outline().size();
        if (cut instanceof Cut.Straight straight) {
            boolean meets = (straight.first() + 1) % n == straight.second();
            String start = format.print(straight.alongFirstMm()) + " along the " + edges.name(straight.first());
            String end = format.print(straight.alongSecondMm()) + " along the " + edges.name(straight.second());
            return meets
                    ? "a straight cut from " + start + " to " + end + ", both from the "
                            + corner(edges, straight.second())
                    : "a straight cut from " + start + " (from the " + corner(edges, straight.first() + 1, n) + ") to "
                            + end + " (from the " + corner(edges, straight.second()) + ")";
        }
        if (cut instanceof Cut.Round round) {
            return "the " + corner(edges, round.corner()) + " rounded to " + format.print(round.radiusMm())
                    + " radius (the arc touches both edges " + format.print(PlateCuts.tangentMm(plate, round))
                    + " from the corner)";
        }
        if (cut instanceof Cut.Notch notch) {
            int from = notch.fromEnd() ? notch.edge() + 1 : notch.edge();
            return "a notch in the " + edges.name(notch.edge()) + " from " + format.print(notch.startsMm()) + " to "
                    + format.print(notch.endsMm()) + " (from the " + corner(edges, from, n) + "), "
                    + format.print(notch.deepMm()) + " deep";
        }
        if (cut instanceof Cut.HoleFilled filled) {
            return "hole " + (filled.hole() + 1) + " welded shut";
        }
        Cut.HoleDrilled drilled = (Cut.HoleDrilled) cut;
        return "a hole of " + format.print(drilled.diameterMm()) + " drilled at "
                + format.bare(drilled.at().x()) + ", "
                + format.print(drilled.at().y()) + " of the outline";
    }

    private static String corner(PlateEdges edges, int corner) {
        String name = edges.corner(corner);
        return name.matches("\\d+") ? "corner " + name : name + " corner";
    }

    private static String corner(PlateEdges edges, int corner, int n) {
        return corner(edges, corner % n);
    }

    /**
     * Returns a cut as the car file has it, in braces: {@code {cut: {along top edge: 1 3/8, along inboard edge: 7/8}}}.
     *
     * @param plate as it is before the cut
     * @param unit the unit of the file's bare numbers
     */
    public static String yaml(Shape.Plate plate, Cut cut, Unit unit) {
        PlateEdges edges = PlateEdges.of(plate);
        LengthFormat exact = LengthFormat.exact(unit);
        int n = plate.outline().size();
        if (cut instanceof Cut.Straight straight) {
            int i = straight.first();
            int j = straight.second();
            String off = (i + 1) % n == j ? "" : ", off: " + edges.name((i + 1) % n);
            return "{cut: {along " + edges.name(i) + ": " + exact.bare(straight.alongFirstMm()) + ", along "
                    + edges.name(j) + ": " + exact.bare(straight.alongSecondMm()) + off + "}}";
        }
        if (cut instanceof Cut.Round round) {
            return "{round: {corner: " + edges.corner(round.corner()) + ", radius: " + exact.bare(round.radiusMm())
                    + "}}";
        }
        if (cut instanceof Cut.Notch notch) {
            int from = notch.fromEnd() ? (notch.edge() + 1) % n : (notch.edge() + n - 1) % n;
            return "{notch: {in: " + edges.name(notch.edge()) + ", from: " + edges.name(from) + ", starts: "
                    + exact.bare(notch.startsMm()) + ", ends: " + exact.bare(notch.endsMm()) + ", deep: "
                    + exact.bare(notch.deepMm()) + "}}";
        }
        if (cut instanceof Cut.HoleFilled filled) {
            return "{fill hole: " + (filled.hole() + 1) + "}";
        }
        Cut.HoleDrilled drilled = (Cut.HoleDrilled) cut;
        Flat at = drilled.at();
        return String.format(
                Locale.ROOT,
                "{drill: {at: [%s, %s], diameter: %s}}",
                exact.bare(at.x()),
                exact.bare(at.y()),
                exact.bare(drilled.diameterMm()));
    }
}
