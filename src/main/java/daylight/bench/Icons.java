package daylight.bench;

import java.util.Map;
import javafx.scene.Node;
import org.kordamp.ikonli.feather.Feather;
import org.kordamp.ikonli.javafx.FontIcon;

/** The pictures on buttons (Feather icons, MIT licence). Each has words beside it or in its tooltip. */
final class Icons {
    private static final Map<String, Feather> PICTURES = Map.ofEntries(
            Map.entry("undo", Feather.CORNER_UP_LEFT),
            Map.entry("redo", Feather.CORNER_UP_RIGHT),
            Map.entry("save", Feather.SAVE),
            Map.entry("open", Feather.FOLDER),
            Map.entry("new", Feather.FILE_PLUS),
            Map.entry("large", Feather.TYPE),
            Map.entry("dark", Feather.MOON),
            Map.entry("help", Feather.HELP_CIRCLE),
            Map.entry("hide", Feather.EYE_OFF),
            Map.entry("show", Feather.EYE),
            Map.entry("add", Feather.PLUS),
            Map.entry("remove", Feather.TRASH_2));

    private Icons() {}

    /** Returns a picture by what it stands for. */
    static Node of(String name) {
        Feather picture = PICTURES.get(name);
        if (picture == null) {
            throw new IllegalArgumentException("no picture is called " + name);
        }
        return new FontIcon(picture);
    }
}
