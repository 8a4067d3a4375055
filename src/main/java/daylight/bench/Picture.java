package daylight.bench;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import javafx.scene.Node;
import javafx.scene.image.PixelReader;
import javafx.scene.image.WritableImage;
import javax.imageio.ImageIO;

/** A picture of a part of the window as a PNG file's bytes. */
final class Picture {
    private Picture() {}

    /** Returns what a node shows, pixel by pixel. On the window's thread. */
    static byte[] png(Node node) {
        WritableImage shown = node.snapshot(null, null);
        int width = (int) shown.getWidth();
        int height = (int) shown.getHeight();
        PixelReader pixels = shown.getPixelReader();
        BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
        for (int y = 0; y < height; y++) {
            for (int x = 0; x < width; x++) {
                image.setRGB(x, y, pixels.getArgb(x, y));
            }
        }
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try {
            if (!ImageIO.write(image, "png", bytes)) {
                throw new IllegalStateException("this Java cannot write PNG, which every Java has to");
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }
}
