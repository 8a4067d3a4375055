/**
 * The window: the car in 3D, its travel under handles, its gaps in a list.
 *
 * <p>Main types: {@link daylight.bench.DaylightWindow} opens it; {@code BenchViewModel} is what it shows and does,
 * without anything of the screen; {@code BenchView} lays that out; {@code CarView} is the picture. What the user can do
 * is one list of {@code Action}s, from which menu, keys, buttons and the help page come. Colours are in one stylesheet,
 * which {@code Palette} reads for the picture. {@code Background} is the one door between the window's thread and
 * others.
 *
 * <p>Frame: everything under the picture's root is in car axes (x forward, y left, z up; mm); one transform turns them
 * into the scene's. Handle values are changes from ride height, mm or radians.
 *
 * <p>The text of the car file is the one truth: {@code FileViewModel} has it with its history, its file and what is kept in
 * case the window is killed; a screen changes the text, and everything shown is read from it again.
 *
 * <p>Limits: one window per run of the program.
 *
 * <pre>{@code
 * DaylightWindow.open(Optional.of(Path.of("demo/harbour-pickup.yaml")));   // returns when the window is closed
 *
 * BenchViewModel model = new BenchViewModel(jobs);                         // the same without a screen
 * model.open(file);
 * model.choose(model.shownRows().get(0));                                  // the car moves to its tightest spot
 * model.frame(0);                                                          // once per frame: poses and live gaps
 * double gapMm = model.chosenNowProperty().get().orElseThrow().distanceMm();
 * }</pre>
 */
@NullMarked
package daylight.bench;

import org.jspecify.annotations.NullMarked;
