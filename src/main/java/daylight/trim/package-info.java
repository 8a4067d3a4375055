/** Cuts tried before they are made. */
@NullMarked
package daylight.trim;

import org.jspecify.annotations.NullMarked;
