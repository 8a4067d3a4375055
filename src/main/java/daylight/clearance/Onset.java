package daylight.clearance;

/**
 * How far the car can move from ride height before a gap falls below a figure: the nearest position at which it does.
 *
 * <p>Near is measured by the share of each handle's own travel that is used: {@code share} is the greatest share among
 * the handles. Every position with all handles below {@code clearUpTo} of their travel is proved to be above the
 * figure (unless the pair is unproved).
 *
 * @param at a position with a gap below the figure
 * @param share the share of travel used there, 0 to 1
 * @param clearUpTo no position that uses less than this share falls below the figure
 */
public record Onset(Position at, double share, double clearUpTo) {}
