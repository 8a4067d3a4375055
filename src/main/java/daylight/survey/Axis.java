package daylight.survey;

import daylight.geometry.Spot;

/** The car's axes (ISO 8855), as a tape is laid along them. The order is that of the coordinates of a point. */
public enum Axis {
    /** x, positive ahead of the datum. */
    FORWARD(0),
    /** y, positive to the left of the body centre plane. */
    LEFT(1),
    /** z, positive above the floor. */
    UP(2);

    private final int place;

    Axis(int place) {
        this.place = place;
    }

    /** Returns the place of this coordinate among x, y, z: 0, 1 or 2. */
    public int place() {
        return place;
    }

    /** Returns the coordinate of a spot along this axis, mm. */
    public double of(Spot spot) {
        return switch (this) {
            case FORWARD -> spot.x();
            case LEFT -> spot.y();
            case UP -> spot.z();
        };
    }

    /** Returns the word for the two ways along this axis, as a message says it. */
    public String words() {
        return switch (this) {
            case FORWARD -> "fore and aft";
            case LEFT -> "sideways";
            case UP -> "up and down";
        };
    }
}
