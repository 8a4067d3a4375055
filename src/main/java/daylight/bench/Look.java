package daylight.bench;

/** The sides from which the car is looked at. */
enum Look {
    THREE_QUARTER("three-quarter", 35, 18, false),
    FRONT("front", 0, 0, true),
    REAR("rear", 180, 0, true),
    LEFT("left", 90, 0, true),
    RIGHT("right", -90, 0, true),
    ABOVE("above", -90, 90, true),
    BELOW("below", -90, -90, true);

    private final String word;
    private final double azimuthDeg;
    private final double elevationDeg;
    private final boolean square;

    Look(String word, double azimuthDeg, double elevationDeg, boolean square) {
        this.word = word;
        this.azimuthDeg = azimuthDeg;
        this.elevationDeg = elevationDeg;
        this.square = square;
    }

    String word() {
        return word;
    }

    /** Returns a view from this side with the same target and scale. */
    Viewpoint turn(Viewpoint view) {
        return view.withField(square ? Viewpoint.SQUARE_FIELD : Viewpoint.FREE_FIELD)
                .from(Math.toRadians(azimuthDeg), Math.toRadians(elevationDeg));
    }
}
