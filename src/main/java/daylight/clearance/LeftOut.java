package daylight.clearance;

/** A pair of parts that was not measured, and why; listed so that nothing is silently skipped. */
public record LeftOut(String first, String second, String reason) {}
