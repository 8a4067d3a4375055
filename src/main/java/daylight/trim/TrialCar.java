package daylight.trim;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Change;
import daylight.car.Complaint;
import daylight.car.Trial;
import daylight.car.TyreSize;
import daylight.car.Tyres;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.motion.Reset;
import daylight.survey.MeasuredCar;
import daylight.survey.MeasuredPoints;
import daylight.units.Length;
import daylight.units.LengthFormat;
import daylight.units.Parsed;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * The car that would come of a trial. It is read from the text that adopting the trial would write, so what is compared
 * is exactly what would be saved.
 *
 * <p>Pure: the document and the car it was made from stay as they are. Parts, hoses and mechanisms that are written as a
 * mirror of a changed one follow it.
 *
 * @param trial what was tried
 * @param document the whole file as it would be saved, without its trials; what changes how the car stands is not in it
 * @param car the car that it describes
 */
public record TrialCar(Trial trial, CarDocument document, Car car) {
    private static final String PARTS = "parts";
    private static final String TRIALS = "trials";
    private static final String TYRE = "tyre";
    /** Offsets nearer than this, mm, leave the wheel where it is. */
    private static final double SAME_MM = 1e-9;

    /**
     * Returns the car of a trial.
     *
     * @param measured the car as it is; the survey's places of its points are kept
     * @throws CarFileException if the changes go together with what else is in the file to no car: a tube whose bends no
     *     longer fit, say. Complaints have their places in the text as it would be
     */
    public static TrialCar of(MeasuredCar measured, Trial trial) throws CarFileException {
        CarDocument document = measured.document();
        // Other trials may speak of edges that this one cuts off: they are no part of the car that is tried.
        CarDocument text = document.has(List.of(TRIALS)) ? document.without(List.of(TRIALS)) : document;
        CarDocument changed = new Writer(measured.car()).apply(text, trial);
        return new TrialCar(trial, changed, standing(document.name(), changed.carWith(places(measured)), trial));
    }

    /** No trial changes what was read with the tape, so the points stay where the survey puts them. */
    private static Map<String, Spot> places(MeasuredCar measured) {
        return measured.points().map(MeasuredPoints::places).orElse(Map.of());
    }

    /** Returns the car as it stands after what changes its ride height. */
    private static Car standing(String file, Car car, Trial trial) throws CarFileException {
        List<Reset.Change> resets = resets(trial);
        if (resets.isEmpty()) {
            return car;
        }
        Reset.Result result = Reset.of(car, resets);
        if (result instanceof Reset.CannotStand cannot) {
            throw refused(
                    file,
                    trial.name() + ": the car cannot stand so: "
                            + cannot.reason().replaceAll("[.]+$", "").replace("\n", " "),
                    "Change it by less.");
        }
        return ((Reset.Stands) result).car();
    }

    private static List<Reset.Change> resets(Trial trial) {
        List<Reset.Change> resets = new ArrayList<>();
        for (Change change : trial.changes()) {
            if (change instanceof Change.RideHeight height) {
                resets.add(new Reset.RideHeight(height.of(), height.raisedMm()));
            } else if (change instanceof Change.RodLength rod) {
                resets.add(new Reset.RodLength(rod.of(), rod.longerMm()));
            } else if (change instanceof Change.SpringSeat seat) {
                resets.add(new Reset.SpringSeat(seat.of(), seat.raisedMm()));
            }
        }
        return resets;
    }

    private static CarFileException refused(String file, String found, String advice) {
        return new CarFileException(
                List.of(new Complaint(Complaint.Kind.CONTRADICTION, file, 1, 1, found, "", advice)));
    }

    /**
     * Returns the file as it is when a trial is adopted: changed, and without that trial; everything else, comments
     * included, stays.
     *
     * @throws CarFileException if the file could not be read so, for example because another of its trials speaks of
     *     what this one has cut off
     */
    public static CarDocument adopted(MeasuredCar measured, Trial trial) throws CarFileException {
        CarDocument document = measured.document();
        Car car = measured.car();
        if (!resets(trial).isEmpty()) {
            throw refused(
                    document.name(),
                    "the trial \"" + trial.name()
                            + "\" changes how the car stands, and every point in the file was measured as it stood",
                    "Make the change on the car, measure it again at its new ride height, and write the new readings.");
        }
        CarDocument changed = document;
        if (document.has(List.of(TRIALS, trial.name()))) {
            changed = document.without(car.trials().size() == 1 ? List.of(TRIALS) : List.of(TRIALS, trial.name()));
        }
        changed = new Writer(car).apply(changed, trial);
        try {
            changed.carWith(places(measured));
        } catch (CarFileException e) {
            of(measured, trial); // its own mistake, if it is one, is told before that of another
            Complaint first = e.complaints().get(0);
            List<Complaint> all = new ArrayList<>();
            all.add(new Complaint(
                    first.kind(),
                    first.file(),
                    first.line(),
                    1,
                    "adopting \"" + trial.name() + "\" would leave another trial that no longer fits",
                    "",
                    "Take that trial out first, or write it for the car as it then is."));
            all.addAll(e.complaints());
            throw new CarFileException(all);
        }
        return changed;
    }

    /**
     * Adopts a trial: writes the changed file in the place of the old one, whole or not at all, and keeps the old one
     * beside it.
     *
     * @return where the previous version is kept
     * @throws CarFileException as {@link #adopted}, or if the disk does not take it
     */
    public static Path adopt(Path file, MeasuredCar measured, Trial trial) throws CarFileException {
        CarFile.save(file, adopted(measured, trial).toText());
        return CarFile.previous(file);
    }

    /** Writes changes into a text, one after another. */
    private static final class Writer {
        private final Car car;
        private final LengthFormat exact;
        private final Map<String, Double> spacerMm = new HashMap<>();

        Writer(Car car) {
            this.car = car;
            this.exact = LengthFormat.exact(car.unit());
        }

        CarDocument apply(CarDocument document, Trial trial) {
            for (Car.Wheel wheel : car.wheels()) {
                spacerMm.put(wheel.part(), length(document, List.of(PARTS, wheel.part(), TYRE, "spacer")));
            }
            CarDocument changed = document;
            for (Change change : trial.changes()) {
                changed = apply(changed, change);
            }
            return changed;
        }

        private CarDocument apply(CarDocument document, Change change) {
            if (change instanceof Change.Trim trim) {
                return trim(document, trim);
            } else if (change instanceof Change.Move move) {
                return move(document, move);
            } else if (change instanceof Change.Rotate rotate) {
                return rotate(document, rotate);
            } else if (change instanceof Change.Rebend bend) {
                return bend(document, bend);
            } else if (change instanceof Change.Spacer spacer) {
                double before = length(document, List.of(PARTS, spacer.of(), TYRE, "spacer"));
                return set(
                        document, List.of(PARTS, spacer.of(), TYRE), "spacer", exact.bare(before + spacer.thickMm()));
            } else if (change instanceof Change.OtherTyre tyre) {
                return tyre(document, tyre);
            } else if (change instanceof Change.HoseLength hose) {
                return set(document, List.of(PARTS, hose.of(), "hose"), "free length", exact.bare(hose.freeLengthMm()));
            } else if (change instanceof Change.RideHeight
                    || change instanceof Change.RodLength
                    || change instanceof Change.SpringSeat) {
                return document; // what changes how the car stands is no change of the text
            } else if (change instanceof Change.OtherEnds ends) {
                CarDocument changed = document;
                for (Change.OtherEnds.End end : ends.ends()) {
                    String value = end.turns()
                            ? String.format(Locale.ROOT, "%.6f", Math.toDegrees(end.value()))
                                            .replaceAll("\\.?0+$", "")
                                    + " deg"
                            : exact.bare(end.value());
                    changed = set(changed, List.of("mechanisms", ends.of()), end.key(), value);
                }
                return changed;
            }
            throw new IllegalStateException("a change of no known kind: " + change + ". Please report this.");
        }

        private CarDocument trim(CarDocument document, Change.Trim trim) {
            List<String> plate = List.of(PARTS, trim.of(), "plate");
            List<String> cuts = List.of(PARTS, trim.of(), "plate", "cuts");
            String yaml = CutWords.yaml(trim.before(), trim.cut(), car.unit());
            boolean nothing = document.value(cuts).isPresent();
            if (nothing) {
                return document.withYaml(cuts, "[" + yaml + "]");
            }
            return document.has(cuts)
                    ? document.withItem(cuts, yaml)
                    : document.withEntry(plate, "cuts", "[" + yaml + "]");
        }

        private CarDocument move(CarDocument document, Change.Move move) {
            List<String> part = List.of(PARTS, move.of());
            Spot before = moved(document, move.of());
            String place = "[" + exact.bare(before.x() + move.aheadMm()) + ", " + exact.bare(before.y() + move.leftMm())
                    + ", " + exact.bare(before.z() + move.upMm()) + "]";
            return document.has(List.of(PARTS, move.of(), "moved"))
                    ? document.withYaml(List.of(PARTS, move.of(), "moved"), place)
                    : document.withEntry(part, "moved", place);
        }

        private Spot moved(CarDocument document, String part) {
            return new Spot(
                    length(document, List.of(PARTS, part, "moved", "0")),
                    length(document, List.of(PARTS, part, "moved", "1")),
                    length(document, List.of(PARTS, part, "moved", "2")));
        }

        /** The file rotates a part before it moves it, so the line is written where it is before the move. */
        private CarDocument rotate(CarDocument document, Change.Rotate rotate) {
            Spot moved = moved(document, rotate.of());
            Spot from = rotate.on().plus(-moved.x(), -moved.y(), -moved.z());
            Spot to = from.along(rotate.axis(), Length.MM_PER_INCH * 10);
            String yaml = "{about: [" + place(from) + ", " + place(to) + "], by: "
                    + String.format(Locale.ROOT, "%.6f", Math.toDegrees(rotate.rad()))
                            .replaceAll("\\.?0+$", "")
                    + " deg}";
            return document.withEntry(List.of(PARTS, rotate.of()), "rotated", yaml);
        }

        private String place(Spot spot) {
            return "[" + exact.bare(spot.x()) + ", " + exact.bare(spot.y()) + ", " + exact.bare(spot.z()) + "]";
        }

        /** Corners that stay where they are keep their spelling. */
        private CarDocument bend(CarDocument document, Change.Rebend bend) {
            Shape.Tube before = car.part(bend.of())
                    .map(Car.Part::shape)
                    .filter(shape -> shape instanceof Shape.Tube)
                    .map(shape -> (Shape.Tube) shape)
                    .orElseThrow(() -> new IllegalArgumentException("no tube is called " + bend.of()));
            List<String> tube = List.of(PARTS, bend.of(), "tube");
            CarDocument changed = document;
            if (before.through().size() == bend.through().size()) {
                for (int i = 0; i < bend.through().size(); i++) {
                    if (!bend.through().get(i).equals(before.through().get(i))) {
                        changed = changed.withYaml(
                                List.of(PARTS, bend.of(), "tube", "through", Integer.toString(i)),
                                place(bend.through().get(i)));
                    }
                }
            } else {
                String all = String.join(
                        ", ", bend.through().stream().map(this::place).toList());
                changed = changed.withYaml(List.of(PARTS, bend.of(), "tube", "through"), "[" + all + "]");
            }
            return bend.bendRadiusMm() == before.bendRadiusMm()
                    ? changed
                    : set(changed, tube, "centreline radius", exact.bare(bend.bendRadiusMm()));
        }

        /** Puts another tyre or wheel on the same hub face. */
        private CarDocument tyre(CarDocument document, Change.OtherTyre change) {
            Tyres tyres = Tyres.shipped();
            List<String> path = List.of(PARTS, change.of(), TYRE);
            double offsetBefore = offsetMm(tyres, document, change.of());
            CarDocument changed = document;
            if (change.size().isPresent()) {
                changed = set(changed, path, "size", change.size().get());
            }
            if (change.rimWidthMm().isPresent()) {
                changed = set(
                        changed,
                        path,
                        "rim width",
                        exact.bare(change.rimWidthMm().get()));
            }
            changed = otherwise(changed, path, "backspacing", "offset", change.backspacingMm());
            changed = otherwise(changed, path, "offset", "backspacing", change.offsetMm());
            double offsetAfter = offsetMm(tyres, changed, change.of());
            boolean byFace = document.has(List.of(PARTS, change.of(), TYRE, "mounting face"));
            if (byFace || Math.abs(offsetAfter - offsetBefore) <= SAME_MM) {
                return changed;
            }
            Car.Wheel wheel = car.wheels().stream()
                    .filter(w -> w.part().equals(change.of()))
                    .findFirst()
                    .orElseThrow(() -> new IllegalArgumentException("no tyre is called " + change.of()));
            // The wheel's centre as it was read stands outboard by the spacer that it was read with.
            Spot face = wheel.centre().along(wheel.spindle(), offsetBefore - spacerMm.getOrDefault(change.of(), 0.0));
            if (changed.has(List.of(PARTS, change.of(), TYRE, "centre"))) {
                changed = changed.without(List.of(PARTS, change.of(), TYRE, "centre"));
            }
            return changed.withEntry(path, "mounting face", place(face));
        }

        private CarDocument otherwise(
                CarDocument document, List<String> path, String key, String other, Optional<Double> value) {
            if (value.isEmpty()) {
                return document;
            }
            List<String> before = List.of(path.get(0), path.get(1), path.get(2), other);
            CarDocument changed = set(document, path, key, exact.bare(value.get()));
            return changed.has(before) ? changed.without(before) : changed;
        }

        /** How far outboard of the middle of the rim the mounting face is, as a text has it, mm. */
        private double offsetMm(Tyres tyres, CarDocument document, String part) {
            TyreSize size = document.value(List.of(PARTS, part, TYRE, "size"))
                    .flatMap(text -> TyreSize.parse(text).value())
                    .orElseThrow(() -> new IllegalArgumentException(part + " has no tyre size"));
            double rim = document.has(List.of(PARTS, part, TYRE, "rim width"))
                    ? length(document, List.of(PARTS, part, TYRE, "rim width"))
                    : tyres.measuringRimMm(size).orElse(0);
            List<String> backspacing = List.of(PARTS, part, TYRE, "backspacing");
            return document.has(backspacing)
                    ? tyres.offsetMm(length(document, backspacing), rim)
                    : length(document, List.of(PARTS, part, TYRE, "offset"));
        }

        private CarDocument set(CarDocument document, List<String> group, String key, String value) {
            List<String> path = new ArrayList<>(group);
            path.add(key);
            return document.has(path) ? document.withValue(path, value) : document.withEntry(group, key, value);
        }

        /** A length as it is written at a path; zero when nothing is there. */
        private double length(CarDocument document, List<String> path) {
            Optional<String> text = document.value(path);
            return text.map(t -> Length.parse(t, car.unit()))
                    .flatMap(Parsed::value)
                    .map(Length::mm)
                    .orElse(0.0);
        }
    }
}
