/** Where every body of a car can go. */
@NullMarked
package daylight.motion;

import org.jspecify.annotations.NullMarked;
