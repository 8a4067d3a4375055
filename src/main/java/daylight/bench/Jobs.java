package daylight.bench;

import daylight.units.Progress;
import java.nio.file.Path;
import java.util.function.Consumer;

/**
 * How view models have work done elsewhere. The window's own is {@link Background}; tests use one that works at once.
 *
 * <p>Each line of work answers one question: a newer request cancels the older, and a late answer to an older request
 * is dropped. All answers arrive on the thread that asked.
 */
interface Jobs {
    /** The lines of work. */
    enum Line {
        /** Reading a car file. */
        OPEN,
        /** Searching all gaps. */
        GAPS,
        /** A chosen pair's gap along its travel. */
        CURVE,
        /** A chosen pair's gap over two movements. */
        MAP,
        /** What becomes of a plate with the cut that is dragged. */
        CUT,
        /** Where a plate comes too near to something. */
        FORBIDDEN,
        /** The least cut of a plate. */
        LEAST_CUT,
        /** Trials compared with the car. */
        TRIALS,
        /** The pages of a car. */
        REPORT,
        /** Where a part goes over the whole travel. */
        GHOST,
        /** The flexible lines, made ready to be drawn. */
        LINES,
        /** What becomes of the flexible lines over the whole travel. */
        HOSES,
        /** What an inspector would look at. */
        INSPECTION,
        /** Looking at what changed on the disk. */
        DISK,
        /** Writing the car file. */
        SAVE,
        /** Keeping unsaved work. */
        KEEP,
        /** Placing the points by what was read. */
        MEASURE,
        /** Trying the file with a changed part. */
        PARTS
    }

    /** Work for another thread. */
    @FunctionalInterface
    interface Work<T> {
        /** Does the work; a result of cancelled work is dropped. */
        T run(Progress progress);
    }

    /** Who is told what became of the work. */
    interface Answer<T> {
        /** The work is done. */
        void done(T result);

        /** The work has come so far. */
        default void progress(double fraction, String message) {}

        /** The program has a mistake. */
        void failed(Throwable mistake);
    }

    /** Starts work on a line, cancelling what it still does. */
    <T> void start(Line line, Work<T> work, Answer<T> answer);

    /** Cancels what a line still does; its answer is dropped. */
    void cancel(Line line);

    /** Calls back whenever the file's content may have changed, until the next call. */
    void watch(Path file, Consumer<Path> changed);
}
