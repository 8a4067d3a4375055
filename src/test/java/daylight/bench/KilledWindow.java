package daylight.bench;

import daylight.bench.file.Drawer;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/** A process that changes a car file again and again, saying each time what was kept, until it is killed. */
final class KilledWindow {
    private KilledWindow() {}

    public static void main(String[] args) throws Exception {
        Path file = Path.of(args[0]);
        JobsAtOnce jobs = new JobsAtOnce();
        FileViewModel model = new FileViewModel(
                jobs, Optional.of(new Drawer(Path.of(args[1]), Drawer.Owner.self())), new FileViewModel.Listener() {
                    @Override
                    public void changed(CarDocument document) {}

                    @Override
                    public void told(String heading, List<String> lines) {
                        throw new IllegalStateException(heading + lines);
                    }

                    @Override
                    public void done(String words) {}

                    @Override
                    public void mistake(Throwable mistake) {
                        throw new IllegalStateException(mistake);
                    }
                });
        model.take(CarFile.open(file));
        jobs.finish();
        PrintStream out = new PrintStream(new FileOutputStream(FileDescriptor.out), true, StandardCharsets.UTF_8);
        for (int i = 1; ; i++) {
            CarDocument now = model.documentProperty().get().orElseThrow();
            model.edit("naming the car", now.withValue(List.of("car"), "Change " + i));
            jobs.finish();
            out.println(i);
        }
    }
}
