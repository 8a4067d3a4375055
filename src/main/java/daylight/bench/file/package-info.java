/**
 * What the window keeps for its user beside car files: unsaved work, recent files, which window has which file open, and
 * the demo cars.
 *
 * <p>Main type: {@link daylight.bench.file.Drawer}. Nothing here knows the screen.
 *
 * <p>Limits: everything lies in one folder of the user's; where that cannot be written, the methods say so and nothing
 * is kept.
 *
 * <pre>{@code
 * Drawer drawer = Drawer.usual();
 * drawer.keep(file, textOnDisk, unsavedText);       // after every change
 * drawer.leftOver(file);                            // work of a window that was killed
 * drawer.forget(file);                              // saved
 * }</pre>
 */
@NullMarked
package daylight.bench.file;

import org.jspecify.annotations.NullMarked;
