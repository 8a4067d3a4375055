/** The car file and what it says. */
@NullMarked
package daylight.car;

import org.jspecify.annotations.NullMarked;
