/**
 * The car file and what it says: a text that a builder writes by hand, read strictly, and the checked {@link
 * daylight.car.Car} that it describes.
 *
 * <p>Main types: {@link daylight.car.CarFile} reads and saves, {@link daylight.car.CarDocument} changes a text
 * without losing a comment, {@link daylight.car.Complaint} is one mistake with its place, {@link
 * daylight.car.Layout} is a kind of mechanism, {@link daylight.car.Tyres} turns a size designation into a shape.
 *
 * <p>Limits: plain YAML only (no anchors, tags, second documents); every coordinate within 100 m of the datum.
 *
 * <pre>{@code
 * try {
 *     Car car = CarFile.read(Path.of("demo/kit-roadster.yaml"));
 *     car.parts().forEach(part -> show(part.name(), part.body(), part.shape()));
 * } catch (CarFileException e) {
 *     e.complaints().forEach(complaint -> tell(complaint.toString()));
 * }
 * }</pre>
 */
@NullMarked
package daylight.car;

import org.jspecify.annotations.NullMarked;
