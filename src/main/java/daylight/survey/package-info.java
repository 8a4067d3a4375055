/** Measured readings turned into points, with their doubt. */
@NullMarked
package daylight.survey;

import org.jspecify.annotations.NullMarked;
