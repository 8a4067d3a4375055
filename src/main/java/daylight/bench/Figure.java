package daylight.bench;

import javafx.geometry.Pos;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;

/**
 * A number in a column, in two parts: the whole at the right edge of the one, the fraction or the decimals at the left
 * edge of the other, so that numbers under one another line up where a fraction begins.
 */
final class Figure extends HBox {
    private final Label whole = new Label();
    private final Label part = new Label();

    Figure(String style) {
        super(3);
        setAlignment(Pos.BASELINE_RIGHT);
        whole.getStyleClass().addAll(style);
        part.getStyleClass().addAll(style);
        whole.setMinWidth(USE_PREF_SIZE);
        part.setStyle("-fx-min-width: 3.3em; -fx-pref-width: 3.3em;");
        getChildren().addAll(whole, part);
    }

    /** Shows a number as it is written: {@code 14 3/8}, {@code -1/16}, {@code 365.1}. */
    void show(String text) {
        WrittenNumber number = WrittenNumber.of(text);
        whole.setText(number.whole());
        part.setText(number.rest());
        // A decimal belongs together; a whole number and its fraction stand a little apart.
        boolean apart = !number.whole().isEmpty()
                && Character.isDigit(number.whole().charAt(number.whole().length() - 1));
        setSpacing(apart && number.rest().contains("/") ? 3 : 0);
    }
}
