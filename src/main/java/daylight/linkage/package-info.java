/** Mechanisms: bodies, joints, drivers, and their solved positions. */
@NullMarked
package daylight.linkage;

import org.jspecify.annotations.NullMarked;
