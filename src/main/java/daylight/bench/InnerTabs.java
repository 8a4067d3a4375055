package daylight.bench;

import java.util.ArrayList;
import java.util.List;
import javafx.scene.Node;
import javafx.scene.control.ToggleButton;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.HBox;

/** A row of tabs over a side panel; one of its pages is shown. */
final class InnerTabs {
    private final String of;
    private final BorderPane side;
    private final HBox row = new HBox();
    private final List<ToggleButton> tabs = new ArrayList<>();
    private final List<Node> pages = new ArrayList<>();
    private final List<Runnable> whenShown = new ArrayList<>();

    /**
     * Puts a row of tabs on a panel.
     *
     * @param of what the panel is about, for those who hear it
     */
    InnerTabs(String of, BorderPane side) {
        this.of = of;
        this.side = side;
        row.getStyleClass().add("inner-tabs");
        side.setTop(row);
    }

    /** Adds a page; the first one is shown. */
    void add(String words, Node page) {
        add(words, page, () -> {});
    }

    /**
     * Adds a page.
     *
     * @param shown told each time it is gone to
     */
    void add(String words, Node page, Runnable shown) {
        ToggleButton tab = new ToggleButton(words);
        tab.setId("tab-" + words);
        tab.getStyleClass().addAll("step", "inner-tab");
        tab.setAccessibleText(of + ": " + words);
        int number = tabs.size();
        tab.setOnAction(event -> show(number));
        tabs.add(tab);
        pages.add(page);
        whenShown.add(shown);
        row.getChildren().add(tab);
        if (number == 0) {
            show(0);
        }
    }

    /** Goes to a page. */
    void show(int number) {
        for (int t = 0; t < tabs.size(); t++) {
            tabs.get(t).setSelected(t == number);
        }
        side.setCenter(pages.get(number));
        whenShown.get(number).run();
    }
}
