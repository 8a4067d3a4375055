package daylight.bench;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javafx.scene.paint.Color;

/**
 * The window's colours by name, read from its stylesheet, for what a stylesheet cannot reach: materials and tests.
 *
 * @param dark whether these are the dark ones
 * @param colours each colour by its name there, without the prefix
 */
record Palette(boolean dark, Map<String, Color> colours) {
    static final String STYLESHEET = "daylight.css";

    private static final Pattern LIGHT_BLOCK = Pattern.compile("\\.bench \\{([^}]*)\\}");
    private static final Pattern DARK_BLOCK = Pattern.compile("\\.bench\\.dark \\{([^}]*)\\}");
    private static final Pattern COLOUR = Pattern.compile("-dl-([a-z-]+):\\s*(#[0-9a-f]{6});");

    Palette {
        colours = Map.copyOf(colours);
    }

    /** Reads the palette from the stylesheet. */
    static Palette read(boolean dark) {
        String text = stylesheet();
        Map<String, Color> colours = new HashMap<>();
        for (Pattern block : dark ? new Pattern[] {LIGHT_BLOCK, DARK_BLOCK} : new Pattern[] {LIGHT_BLOCK}) {
            Matcher found = block.matcher(text);
            if (!found.find()) {
                throw new IllegalStateException("the stylesheet has no block " + block);
            }
            Matcher colour = COLOUR.matcher(found.group(1));
            while (colour.find()) {
                colours.put(colour.group(1), Color.web(colour.group(2)));
            }
        }
        return new Palette(dark, colours);
    }

    private static String stylesheet() {
        try (InputStream in = Palette.class.getResourceAsStream(STYLESHEET)) {
            if (in == null) {
                throw new IllegalStateException("the stylesheet is missing from the program");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Returns a colour by its name. */
    Color get(String name) {
        Color colour = colours.get(name);
        if (colour == null) {
            throw new IllegalArgumentException("no colour is called " + name);
        }
        return colour;
    }

    /** Returns the contrast of two colours, 1 to 21 (WCAG 2.1, relative luminance and contrast ratio). */
    static double contrast(Color a, Color b) {
        double first = luminance(a);
        double second = luminance(b);
        return (Math.max(first, second) + 0.05) / (Math.min(first, second) + 0.05);
    }

    private static double luminance(Color colour) {
        return 0.2126 * linear(colour.getRed())
                + 0.7152 * linear(colour.getGreen())
                + 0.0722 * linear(colour.getBlue());
    }

    private static double linear(double channel) {
        return channel <= 0.03928 ? channel / 12.92 : Math.pow((channel + 0.055) / 1.055, 2.4);
    }
}
