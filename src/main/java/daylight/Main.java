package daylight;

import daylight.bench.DaylightWindow;
import daylight.command.Daylight;
import daylight.command.Terminal;
import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** Where the program starts: the only place that knows both the command line and the window. */
public final class Main {
    private Main() {}

    /** Runs the command line and exits with its status. */
    public static void main(String[] args) {
        boolean console = System.console() != null;
        boolean colour = console && System.getenv("NO_COLOR") == null;
        Terminal terminal = new Terminal(writer(FileDescriptor.out), writer(FileDescriptor.err), console, colour);
        System.exit(Daylight.run(List.of(args), terminal, DaylightWindow::open));
    }

    private static PrintWriter writer(FileDescriptor to) {
        return new PrintWriter(new OutputStreamWriter(new FileOutputStream(to), StandardCharsets.UTF_8), false);
    }
}
