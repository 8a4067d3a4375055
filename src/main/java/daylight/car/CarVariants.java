package daylight.car;

import daylight.geometry.Spot;
import daylight.units.Length;
import daylight.units.Parsed;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Many readings of one car file with its points in different places: the text is parsed once, and so are the tables
 * that it rests on. An engine: not thread-safe, one per thread.
 *
 * <p>The cars have their points, mechanisms, moves, parts and hoses; what rests on no point (readings, rules,
 * exclusions, trials) is left out.
 */
public final class CarVariants {
    private final String name;
    private final Optional<YamlNode.Mapping> root;
    private final Reading parsed;
    private final MeshSource meshes;
    private final Optional<Path> folder;
    private static final Set<String> LEFT_OUT = Set.of("tape", "rules", "rule lists", "exclusions", "trials");

    private final Shelf shelf = new Shelf();
    private final Map<String, Parsed<Length>> lengths = new HashMap<>();
    private Set<String> used = Set.of();

    CarVariants(String name, String text, Optional<Path> file) {
        this.name = name;
        this.parsed = new Reading(name);
        this.root = YamlText.read(parsed, text)
                .map(whole -> new YamlNode.Mapping(
                        whole.place(),
                        whole.entries().stream()
                                .filter(entry -> !LEFT_OUT.contains(entry.key().text()))
                                .toList(),
                        whole.flow()));
        this.folder = file.map(Path::getParent);
        this.meshes = folder.<MeshSource>map(MeshFiles::new).orElse(MeshSource.NONE);
    }

    /**
     * Returns the car with some points elsewhere.
     *
     * @param moved places by name, mm
     * @throws CarFileException with every complaint in file order
     */
    public Car with(Map<String, Spot> moved) throws CarFileException {
        if (root.isEmpty()) {
            throw new CarFileException(parsed.complaints());
        }
        CarReader reader = new CarReader(new Reading(name, lengths), meshes, folder, moved, shelf, false);
        Car car = reader.read(root.get());
        used = Set.copyOf(reader.pointsUsed());
        return car;
    }

    /** Returns the points on whose places something of the car rests, as the last car was read. */
    public Set<String> pointsUsed() {
        return used;
    }
}
