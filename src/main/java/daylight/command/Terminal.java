package daylight.command;

import java.io.PrintWriter;

/**
 * Where results and messages go, and what the terminal can show.
 *
 * @param out results
 * @param err messages and progress
 * @param interactive whether messages go to a person's terminal, so that a progress bar makes sense
 * @param colour whether results may be coloured
 */
public record Terminal(PrintWriter out, PrintWriter err, boolean interactive, boolean colour) {}
