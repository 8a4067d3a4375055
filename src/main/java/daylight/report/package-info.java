/** Pages and pictures without a screen. */
@NullMarked
package daylight.report;

import org.jspecify.annotations.NullMarked;
