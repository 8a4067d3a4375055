/** The command line. */
@NullMarked
package daylight.command;

import org.jspecify.annotations.NullMarked;
