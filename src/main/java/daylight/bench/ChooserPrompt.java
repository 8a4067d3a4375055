package daylight.bench;

import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import javafx.scene.Node;
import javafx.stage.FileChooser;
import org.jspecify.annotations.Nullable;

/** Asks with the system's own question for a file to write; the folder of the last answer is where the next begins. */
final class ChooserPrompt implements FilePrompt {
    private final Node over;
    private @Nullable File folder;

    /**
     * Asks over a window.
     *
     * @param over a node in the window
     */
    ChooserPrompt(Node over) {
        this.over = over;
    }

    @Override
    public Optional<Path> whereTo(String title, String suggested, String kind) {
        FileChooser chooser = new FileChooser();
        chooser.setTitle(title);
        chooser.setInitialFileName(suggested + "." + kind);
        chooser.getExtensionFilters().add(new FileChooser.ExtensionFilter(kind.toUpperCase(Locale.ROOT), "*." + kind));
        if (folder != null && Files.isDirectory(folder.toPath())) {
            chooser.setInitialDirectory(folder);
        }
        File file = chooser.showSaveDialog(over.getScene().getWindow());
        if (file == null) {
            return Optional.empty();
        }
        folder = file.getParentFile();
        return Optional.of(ended(file.toPath(), kind));
    }

    /** The system does not always put the ending on. */
    static Path ended(Path file, String kind) {
        String name = String.valueOf(file.getFileName());
        return name.toLowerCase(Locale.ROOT).endsWith("." + kind) ? file : file.resolveSibling(name + "." + kind);
    }
}
