package daylight.report;

import daylight.clearance.State;
import java.util.List;
import java.util.Optional;

/** Lines of plain text in columns. */
final class Columns {
    private static final String ESCAPE = "\u001b[";

    private Columns() {}

    /**
     * Adds lines to a text, each column as wide as its widest cell.
     *
     * @param cells a heading, then the rows
     * @param firstNumber the first column that is set to the right
     * @param lastNumber the last one
     * @param colours for each line the state in whose colour its first cell is printed, if any
     */
    static void print(
            StringBuilder text, List<String[]> cells, int firstNumber, int lastNumber, List<Optional<State>> colours) {
        int[] width = new int[cells.get(0).length];
        for (String[] line : cells) {
            for (int c = 0; c < width.length; c++) {
                width[c] = Math.max(width[c], line[c].length());
            }
        }
        for (int l = 0; l < cells.size(); l++) {
            String[] line = cells.get(l);
            StringBuilder out = new StringBuilder();
            for (int c = 0; c < width.length; c++) {
                String pad = " ".repeat(width[c] - line[c].length());
                String cell = c >= firstNumber && c <= lastNumber ? pad + line[c] : line[c] + pad;
                if (c == 0 && colours.get(l).isPresent()) {
                    cell = ESCAPE + code(colours.get(l).get()) + "m" + cell + ESCAPE + "0m";
                }
                out.append(cell).append("  ");
            }
            text.append(out.toString().stripTrailing()).append('\n');
        }
    }

    /** Okabe-Ito colours: vermillion, orange, bluish green. */
    private static String code(State state) {
        return switch (state) {
            case RUB -> "1;38;2;213;94;0";
            case TIGHT -> "38;2;230;159;0";
            case CLEAR -> "38;2;0;158;115";
        };
    }
}
