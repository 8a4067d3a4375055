package daylight.car;

import daylight.geometry.Shape;
import java.util.Optional;

/** Where a car's meshes come from. */
interface MeshSource {
    /** Where there is no folder to look in. */
    MeshSource NONE = (in, node, file, unit) -> {
        in.complain(
                Complaint.Kind.FILE,
                node.place(),
                "the mesh \"" + file + "\" cannot be read here",
                "Meshes are read from files beside the car file.",
                "Open the car from its file.");
        return Optional.empty();
    };

    /**
     * Reads a mesh, or complains and gives nothing.
     *
     * @param node where its name stands
     * @param unit mm, cm, in or m
     */
    Optional<Shape> mesh(Reading in, YamlNode node, String file, String unit);
}
