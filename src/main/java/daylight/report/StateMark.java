package daylight.report;

import daylight.clearance.State;

/** A state as a shape, the same as in the window: a full diamond for a rub, a half disc for tight, a ring for clear. */
final class StateMark {
    private static final double SIZE = 16;
    private static final double MIDDLE = SIZE / 2;
    private static final double RADIUS = 6;
    private static final int STEPS = 16;

    private StateMark() {}

    /** Returns the mark as a small picture. */
    static String of(State state) {
        Drawing.Pen pen = Drawing.Pen.of(Drawing.INK, 1.6);
        return switch (state) {
            case RUB ->
                new Drawing(SIZE, SIZE, "full diamond")
                        .path("M 8 0.5 L 15.5 8 L 8 15.5 L 0.5 8 Z", Drawing.INK, Drawing.Pen.NONE)
                        .finished();
            case TIGHT ->
                new Drawing(SIZE, SIZE, "half disc")
                        .path(half(), Drawing.INK, Drawing.Pen.NONE)
                        .circle(MIDDLE, MIDDLE, RADIUS, "none", pen)
                        .finished();
            case CLEAR ->
                new Drawing(SIZE, SIZE, "ring")
                        .circle(MIDDLE, MIDDLE, RADIUS - 1, "none", Drawing.Pen.of(Drawing.QUIET, 1.4))
                        .finished();
        };
    }

    private static String half() {
        StringBuilder path = new StringBuilder();
        for (int i = 0; i <= STEPS; i++) {
            double angle = Math.PI / 2 + Math.PI * i / STEPS;
            path.append(i == 0 ? "M " : " L ")
                    .append(Drawing.number(MIDDLE + RADIUS * Math.cos(angle)))
                    .append(' ')
                    .append(Drawing.number(MIDDLE - RADIUS * Math.sin(angle)));
        }
        return path.append(" Z").toString();
    }
}
