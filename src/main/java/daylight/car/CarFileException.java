package daylight.car;

import java.util.List;
import java.util.stream.Collectors;

/** A file that could not be read or written, with every complaint about it in file order. */
public final class CarFileException extends Exception {
    private static final long serialVersionUID = 1;

    /** Complaints are records of text and numbers; exceptions of this program are not written to streams. */
    private final transient List<Complaint> complaints;

    /** Makes one of at least one complaint. */
    public CarFileException(List<Complaint> complaints) {
        super(complaints.stream().map(Complaint::toString).collect(Collectors.joining("\n")));
        this.complaints = List.copyOf(complaints);
        if (complaints.isEmpty()) {
            throw new IllegalArgumentException("an exception needs a complaint");
        }
    }

    /** Returns the complaints in file order, at least one. */
    public List<Complaint> complaints() {
        return complaints;
    }
}
