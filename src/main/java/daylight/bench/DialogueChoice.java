package daylight.bench;

import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import javafx.stage.FileChooser;
import javafx.stage.Stage;

/** Asks with the system's own dialogue, beginning in the folder of the open car. */
final class DialogueChoice implements FileChoice {
    private final Stage stage;
    private final BenchViewModel model;

    DialogueChoice(Stage stage, BenchViewModel model) {
        this.stage = stage;
        this.model = model;
    }

    @Override
    public Optional<Path> toOpen() {
        FileChooser chooser = chooser("Open a car file");
        chooser.getExtensionFilters()
                .addAll(
                        new FileChooser.ExtensionFilter("Car files", "*.yaml", "*.yml"),
                        new FileChooser.ExtensionFilter("All files", "*"));
        return Optional.ofNullable(chooser.showOpenDialog(stage)).map(File::toPath);
    }

    @Override
    public Optional<Path> toWrite(String title, String suggested) {
        FileChooser chooser = chooser(title);
        String ending = suggested.substring(suggested.lastIndexOf('.') + 1);
        chooser.getExtensionFilters()
                .add(new FileChooser.ExtensionFilter(ending.equals("yaml") ? "Car files" : ending, "*." + ending));
        chooser.setInitialFileName(suggested);
        return Optional.ofNullable(chooser.showSaveDialog(stage))
                .map(File::toPath)
                .map(path -> path.toString().contains(".") ? path : Path.of(path + "." + ending));
    }

    private FileChooser chooser(String title) {
        FileChooser chooser = new FileChooser();
        chooser.setTitle(title);
        model.openProperty().get().map(open -> open.file().getParent()).ifPresent(folder -> {
            if (Files.isDirectory(folder)) {
                chooser.setInitialDirectory(folder.toFile());
            }
        });
        return chooser;
    }
}
