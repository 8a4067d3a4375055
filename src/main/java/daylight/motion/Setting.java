package daylight.motion;

/**
 * A handle and where it stands, or a play and how far it has shifted.
 *
 * @param name the handle's or play's name
 * @param value mm, or radians when {@code turns}; zero at ride height
 * @param turns whether the value is an angle in radians
 */
public record Setting(String name, double value, boolean turns) {}
