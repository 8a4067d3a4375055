/** The program: where it starts. */
@NullMarked
package daylight;

import org.jspecify.annotations.NullMarked;
