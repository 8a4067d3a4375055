package daylight.car;

import daylight.geometry.Spot;
import daylight.units.Length;
import daylight.units.Parsed;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;

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
    private static final String PARTS = "parts";

    private final Shelf shelf = new Shelf();
    private final Map<String, Parsed<Length>> lengths = new HashMap<>();
    private Set<String> used = Set.of();
    private Set<String> ofMechanisms = Set.of();
    private Map<String, Set<String>> ofParts = Map.of();

    CarVariants(String name, String text, Optional<Path> file) {
        this.name = name;
        this.parsed = new Reading(name);
        this.root = YamlText.read(parsed, text)
                .map(whole ->
                        only(whole, entry -> !LEFT_OUT.contains(entry.key().text())));
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
        CarReader reader = reader(moved);
        Car car = reader.read(top());
        used = Set.copyOf(reader.pointsUsed());
        ofMechanisms = Set.copyOf(reader.pointsOfMechanisms());
        ofParts = reader.pointsOfParts();
        return car;
    }

    /**
     * Returns the car with some points elsewhere, described anew as far as one point carries: its mechanisms, and
     * those of the wanted parts whose shape rests on that point. All other wanted parts are as they were; parts that
     * are not wanted, hoses and wheels are left out. Costs a fraction of {@link #with(Map)}, which has to have read
     * the whole car before.
     *
     * @param whole the car as read before, with all other points in the same places
     * @param moved places by name, mm
     * @param point the one point that is elsewhere than in {@code whole}
     * @param wanted names of parts
     * @throws CarFileException with every complaint in file order
     */
    public Car with(Car whole, Map<String, Spot> moved, String point, Set<String> wanted) throws CarFileException {
        Set<String> changed = new LinkedHashSet<>();
        for (String part : wanted) {
            if (ofParts.getOrDefault(part, Set.of()).contains(point)) {
                changed.add(part);
            }
        }
        List<Car.Part> again = List.of();
        Car car = whole;
        if (!changed.isEmpty() || ofMechanisms.contains(point)) {
            Set<String> read = new LinkedHashSet<>(changed);
            for (YamlNode.Entry entry : entries()) {
                if (changed.contains(entry.key().text())
                        && entry.value() instanceof YamlNode.Mapping part
                        && part.get("mirror").orElse(part) instanceof YamlNode.Scalar source) {
                    read.add(source.text());
                }
            }
            YamlNode.Mapping few = new YamlNode.Mapping(
                    top().place(),
                    top().entries().stream()
                            .map(entry ->
                                    entry.key().text().equals(PARTS) && entry.value() instanceof YamlNode.Mapping parts
                                            ? new YamlNode.Entry(
                                                    entry.key(),
                                                    only(
                                                            parts,
                                                            part -> read.contains(
                                                                    part.key().text())))
                                            : entry)
                            .toList(),
                    top().flow());
            car = reader(moved).read(few);
            again = car.parts();
        }
        Map<String, Car.Part> fresh = new HashMap<>();
        again.forEach(part -> fresh.put(part.name(), part));
        List<Car.Part> parts = new ArrayList<>();
        for (Car.Part part : whole.parts()) {
            if (wanted.contains(part.name())) {
                parts.add(changed.contains(part.name()) ? fresh.getOrDefault(part.name(), part) : part);
            }
        }
        return car.withParts(parts);
    }

    /** Returns the points on whose places something of the car rests, as the last whole car was read. */
    public Set<String> pointsUsed() {
        return used;
    }

    /** Returns the points on whose places the mechanisms or some parts' shapes rest, as the last whole car was read. */
    public Set<String> pointsUsed(Set<String> parts) {
        Set<String> points = new LinkedHashSet<>(ofMechanisms);
        parts.forEach(part -> points.addAll(ofParts.getOrDefault(part, Set.of())));
        return points;
    }

    private CarReader reader(Map<String, Spot> moved) {
        return new CarReader(new Reading(name, lengths), meshes, folder, moved, shelf, false);
    }

    private YamlNode.Mapping top() throws CarFileException {
        if (root.isEmpty()) {
            throw new CarFileException(parsed.complaints());
        }
        return root.get();
    }

    private List<YamlNode.Entry> entries() {
        return root.flatMap(top -> top.get(PARTS))
                .map(parts -> parts instanceof YamlNode.Mapping mapping ? mapping.entries() : List.<YamlNode.Entry>of())
                .orElse(List.of());
    }

    private static YamlNode.Mapping only(YamlNode.Mapping mapping, Predicate<YamlNode.Entry> kept) {
        return new YamlNode.Mapping(
                mapping.place(), mapping.entries().stream().filter(kept).toList(), mapping.flow());
    }
}
