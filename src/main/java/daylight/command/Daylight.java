package daylight.command;

import daylight.car.CarFileException;
import java.io.PrintWriter;
import java.util.List;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/** The command line: parses words, calls one service, and turns the outcome into an exit status. */
@Command(
        name = "daylight",
        description = "Finds where the moving parts of a car will touch, before metal is cut.",
        mixinStandardHelpOptions = true,
        versionProvider = Daylight.Version.class,
        sortOptions = false,
        footer = {"", "Example: daylight gaps demo/harbour-pickup.yaml"})
public final class Daylight {
    /** All is clear. */
    public static final int CLEAR = 0;
    /** Something is tight or rubs. */
    public static final int NOT_CLEAR = 1;
    /** The input is wrong. */
    public static final int WRONG_INPUT = 2;
    /** Our own mistake. */
    public static final int OUR_MISTAKE = 3;

    @Option(
            names = "--trace",
            scope = CommandLine.ScopeType.INHERIT,
            description = "Show where in the program an error arose.")
    private boolean trace;

    private Daylight() {}

    /**
     * Runs one command.
     *
     * @param words the command line after the program's name
     * @param terminal where results and messages go
     * @param window opens the window for {@code bench}
     * @return the exit status: 0 clear, 1 tight or rubbing, 2 wrong input, 3 a mistake of the program's own
     */
    public static int run(List<String> words, Terminal terminal, Window window) {
        Daylight daylight = new Daylight();
        CommandLine line = new CommandLine(daylight);
        line.addSubcommand(new Measure(terminal));
        line.addSubcommand(new Gaps(terminal));
        line.addSubcommand(new Inspect(terminal));
        line.addSubcommand(new Hoses(terminal));
        line.addSubcommand(new Travel(terminal));
        line.addSubcommand(new Trials(terminal));
        line.addSubcommand(new Trims(terminal));
        line.addSubcommand(new ReportCommand(terminal));
        line.addSubcommand(new LayoutList(terminal));
        line.addSubcommand(new NewCar(terminal));
        line.addSubcommand(new Bench(window));
        line.setOut(terminal.out());
        line.setErr(terminal.err());
        line.setColorScheme(CommandLine.Help.defaultColorScheme(
                terminal.colour() ? CommandLine.Help.Ansi.ON : CommandLine.Help.Ansi.OFF));
        line.setUsageHelpAutoWidth(false);
        line.setParameterExceptionHandler(Daylight::wrongWords);
        line.setExecutionExceptionHandler((failure, failed, parsed) -> daylight.failed(failure, terminal.err()));
        if (words.isEmpty()) {
            line.usage(terminal.out());
            terminal.out().flush();
            return CLEAR;
        }
        int status = line.execute(words.toArray(new String[0]));
        terminal.out().flush();
        terminal.err().flush();
        return status;
    }

    private static int wrongWords(ParameterException wrong, String[] words) {
        CommandLine line = wrong.getCommandLine();
        PrintWriter err = line.getErr();
        err.println("daylight: " + wrong.getMessage());
        UnmatchedArgumentException.printSuggestions(wrong, err);
        err.println(line.getHelp().synopsis(0).stripTrailing() + "   (--help says more)");
        return WRONG_INPUT;
    }

    private int failed(Exception failure, PrintWriter err) {
        if (trace) {
            failure.printStackTrace(err);
        }
        if (failure instanceof CarFileException wrong) {
            wrong.complaints().forEach(complaint -> err.println(complaint));
            return WRONG_INPUT;
        }
        err.println("daylight: this is a mistake of the program, not of your file: " + failure.getMessage());
        err.println("Please report it with the car file and the output of the same command with --trace.");
        return OUR_MISTAKE;
    }

    /** Says the version that the build wrote into the jar. */
    static final class Version implements IVersionProvider {
        @Override
        public String[] getVersion() {
            return new String[] {version()};
        }
    }

    /** Returns the program's name and version. */
    static String version() {
        String version = Daylight.class.getPackage().getImplementationVersion();
        return "daylight " + (version == null ? "(not packaged)" : version);
    }
}
