/** Lengths and angles as a builder writes and reads them. */
@NullMarked
package daylight.units;

import org.jspecify.annotations.NullMarked;
