package daylight.motion;

/**
 * A side of a handle's stated travel that a shock, stop, strap or joint ends earlier, wherever the other handles stand.
 *
 * @param handle the handle's name
 * @param turns whether its values are angles in radians (else mm)
 * @param stated where the car file ends this side, from ride height; below zero on the lower side
 * @param searched where it is ended, of the same sign and nearer to ride height
 * @param by what ends it, and in what way
 */
public record EarlierEnd(String handle, boolean turns, double stated, double searched, TravelEnd.Met by) {
    public EarlierEnd {
        if (!(stated * searched >= 0 && Math.abs(searched) < Math.abs(stated))) {
            throw new IllegalArgumentException(
                    handle + ": " + searched + " does not end the stated " + stated + " earlier");
        }
    }

    /** Returns where it is ended, as the handle stands there. */
    public Setting setting() {
        return new Setting(handle, searched, turns);
    }
}
