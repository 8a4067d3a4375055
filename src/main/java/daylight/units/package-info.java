/**
 * Lengths and angles as a builder writes and reads them.
 *
 * <p>Main types: {@link daylight.units.Length} and {@link daylight.units.LengthFormat}. Reading never throws for
 * what a person typed: it gives a {@link daylight.units.Parsed}, which is either the value or the reason why there
 * is none and what to write instead. The inch is exactly 25.4 mm.
 *
 * <p>Limits: no arithmetic in the text ({@code 3 + 1/4}), no exponents ({@code 1e3}), no thousands separators.
 *
 * <pre>{@code
 * Parsed<Length> read = Length.parse("14 3/8", Unit.INCH);
 * if (read instanceof Parsed.Read<Length> length) {
 *     double mm = length.result().mm();                         // 365.125
 *     String text = LengthFormat.SIXTEENTHS.print(mm);          // 14 3/8 in
 *     String metric = LengthFormat.TENTHS_OF_MM.print(mm);      // 365.1 mm
 * } else if (read instanceof Parsed.Refused<Length> refused) {
 *     String why = refused.reason() + ". " + refused.advice();
 * }
 * }</pre>
 */
@NullMarked
package daylight.units;

import org.jspecify.annotations.NullMarked;
