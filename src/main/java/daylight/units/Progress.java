package daylight.units;

/**
 * How far a long piece of work has come, and whether to stop. Engines report to it and ask it; the command line shows
 * it as a bar, the window as a bar with a cancel button.
 *
 * <p>Called from the threads that work: implementations are thread-safe and quick.
 */
public interface Progress {
    /** Takes every report and never asks to stop. */
    Progress SILENT = new Progress() {
        @Override
        public void at(double fraction, String message) {}

        @Override
        public boolean cancelled() {
            return false;
        }
    };

    /**
     * Says how far the work has come.
     *
     * @param fraction from 0 to 1; never falls within one piece of work
     * @param message what is being done, in the user's words
     */
    void at(double fraction, String message);

    /** Returns whether the user asked to stop; the work then ends soon and says that it was cancelled. */
    boolean cancelled();
}
