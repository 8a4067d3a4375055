package daylight.clearance;

import daylight.motion.Setting;
import java.util.List;

/**
 * Where the car stands: the handles that matter to a pair, and how its bodies have shifted within their play.
 *
 * @param handles each handle that moves either part; every other handle is of no effect on the pair
 * @param shifts each play that is not zero
 */
public record Position(List<Setting> handles, List<Setting> shifts) {
    public Position {
        handles = List.copyOf(handles);
        shifts = List.copyOf(shifts);
    }
}
