/** The least gap of every pair of parts over the whole travel. */
@NullMarked
package daylight.clearance;

import org.jspecify.annotations.NullMarked;
