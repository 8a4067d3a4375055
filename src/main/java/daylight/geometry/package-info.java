/** Shapes and the signed distance between them. */
@NullMarked
package daylight.geometry;

import org.jspecify.annotations.NullMarked;
