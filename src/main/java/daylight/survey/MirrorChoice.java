package daylight.survey;

import daylight.geometry.Spot;

/**
 * A point that the readings put in either of two places, mirror images of one another. A rough guess, a height or one
 * more distance decides.
 *
 * @param point its name
 * @param taken where it was put
 * @param other where it could be as well
 */
public record MirrorChoice(String point, Spot taken, Spot other) {}
