package daylight.bench;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Complaint;
import daylight.geometry.Skin;
import daylight.geometry.Solid;
import daylight.motion.Workspace;
import daylight.survey.MeasuredCar;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A car that was read from a file, made ready for moving, measuring and drawing. Immutable, so that it is made on one
 * thread and used on another.
 *
 * @param file where it was read
 * @param measured the car with its text and its survey; empty for a car that was made without a text
 * @param car the car
 * @param workspace where it can go
 * @param solids its parts for measuring, in the order of the parts
 * @param surfaces its parts for drawing, in the order of the parts
 * @param bodies the number of the body that carries each part
 */
record OpenCar(
        Path file,
        Optional<MeasuredCar> measured,
        Car car,
        Workspace workspace,
        List<Solid> solids,
        List<Surface> surfaces,
        List<Integer> bodies) {

    /** How far a drawn triangle may be from the round surface it stands for: a pixel of a part that fills the view. */
    private static final double SAGITTA_MM = 0.4;

    OpenCar {
        solids = List.copyOf(solids);
        surfaces = List.copyOf(surfaces);
        bodies = List.copyOf(bodies);
    }

    /** What became of reading a file. */
    sealed interface Reading {
        /** The file was read. */
        record Read(OpenCar car) implements Reading {}

        /**
         * The file has mistakes.
         *
         * @param document its text, unless it could not even be opened
         */
        record Refused(Path file, Optional<CarDocument> document, List<Complaint> complaints) implements Reading {
            public Refused {
                complaints = List.copyOf(complaints);
            }
        }
    }

    /** Reads a car file and makes the car ready. */
    static Reading read(Path file) {
        CarDocument document;
        try {
            document = CarFile.open(file);
        } catch (CarFileException e) {
            return new Reading.Refused(file, Optional.empty(), e.complaints());
        }
        return read(file, document);
    }

    /** Makes the car of a text ready. */
    static Reading read(Path file, CarDocument document) {
        try {
            return new Reading.Read(of(file, MeasuredCar.of(document)));
        } catch (CarFileException e) {
            return new Reading.Refused(file, Optional.of(document), e.complaints());
        }
    }

    /** Makes a measured car ready. */
    static OpenCar of(Path file, MeasuredCar measured) {
        return of(file, Optional.of(measured), measured.car());
    }

    /** Makes a car ready that has no text. */
    static OpenCar of(Path file, Car car) {
        return of(file, Optional.empty(), car);
    }

    private static OpenCar of(Path file, Optional<MeasuredCar> measured, Car car) {
        Workspace workspace = Workspace.of(car);
        List<Solid> solids = new ArrayList<>();
        List<Surface> surfaces = new ArrayList<>();
        List<Integer> bodies = new ArrayList<>();
        for (Car.Part part : car.parts()) {
            solids.add(Solid.of(part.shape()));
            Skin skin = Skin.of(part.shape(), SAGITTA_MM);
            surfaces.add(Surface.of(skin.vertices(), skin.faces()));
            bodies.add(workspace.bodyIndex(part.body()));
        }
        return new OpenCar(file, measured, car, workspace, solids, surfaces, bodies);
    }

    /** Returns the number of each part by its name. */
    Map<String, Integer> partNumbers() {
        Map<String, Integer> numbers = new HashMap<>();
        for (int p = 0; p < car.parts().size(); p++) {
            numbers.put(car.parts().get(p).name(), p);
        }
        return numbers;
    }

    /** Returns whether this is the very car that a job was started for, not one that was read again since. */
    @SuppressWarnings("ReferenceEquality")
    boolean isStill(OpenCar other) {
        return this == other;
    }

    /** Returns the name of a part. */
    String partName(int part) {
        return car.parts().get(part).name();
    }
}
