/** What an inspector looks for. */
@NullMarked
package daylight.inspection;

import org.jspecify.annotations.NullMarked;
