package daylight;

import daylight.bench.DaylightWindow;
import daylight.command.Daylight;
import daylight.command.Terminal;
import java.io.Console;
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
        boolean console = isTerminal();
        boolean colour = console && System.getenv("NO_COLOR") == null;
        Terminal terminal = new Terminal(writer(FileDescriptor.out), writer(FileDescriptor.err), console, colour);
        System.exit(Daylight.run(List.of(args), terminal, DaylightWindow::open));
    }

    /** Whether a person reads along. Since Java 22 there is a console even without one, and it says so. */
    @SuppressWarnings("SystemConsoleNull") // both answers are asked for
    private static boolean isTerminal() {
        Console console = System.console();
        if (console == null) {
            return false;
        }
        try {
            return (boolean) Console.class.getMethod("isTerminal").invoke(console);
        } catch (NoSuchMethodException beforeJava22) {
            return true;
        } catch (ReflectiveOperationException refused) {
            return false;
        }
    }

    private static PrintWriter writer(FileDescriptor to) {
        return new PrintWriter(new OutputStreamWriter(new FileOutputStream(to), StandardCharsets.UTF_8), false);
    }
}
