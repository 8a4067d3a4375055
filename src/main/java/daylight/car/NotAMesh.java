package daylight.car;

/** What is wrong with a mesh's file, in words for a complaint, and where in the file where that helps. */
final class NotAMesh extends Exception {
    private static final long serialVersionUID = 1;

    private final String what;

    NotAMesh(String what) {
        super(what);
        this.what = what;
    }

    @Override
    public String getMessage() {
        return what;
    }
}
