package daylight;

import daylight.bench.DaylightWindow;
import java.nio.file.Path;
import java.util.Arrays;

/** Where the window starts when it is started by itself, with a car file or without: {@code daylight-window CAR}. */
public final class WindowMain {
    private WindowMain() {}

    /** Opens the window and returns when it is closed. */
    public static void main(String[] args) {
        DaylightWindow.open(Arrays.stream(args).findFirst().map(Path::of));
    }
}
