/** Flexible lines: shape, slack, bend, twist. */
@NullMarked
package daylight.hose;

import org.jspecify.annotations.NullMarked;
