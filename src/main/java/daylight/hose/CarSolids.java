package daylight.hose;

import daylight.car.Car;
import daylight.clearance.Sweeps;
import daylight.geometry.Solid;
import daylight.motion.Kinematics;
import java.util.ArrayList;
import java.util.List;

/** A car's parts made ready for measuring, in their order: each one's solid, and the room that it sweeps. */
record CarSolids(List<Solid> solids, List<Sweeps.Room> rooms) {
    CarSolids {
        solids = List.copyOf(solids);
        rooms = List.copyOf(rooms);
    }

    static CarSolids of(Car car, Kinematics kinematics) {
        List<Solid> solids =
                car.parts().stream().map(part -> Solid.of(part.shape())).toList();
        List<Sweeps.Room> rooms = new ArrayList<>();
        for (int p = 0; p < solids.size(); p++) {
            int body = kinematics.workspace().bodyIndex(car.parts().get(p).body());
            rooms.add(Sweeps.room(kinematics, solids.get(p), body));
        }
        return new CarSolids(solids, rooms);
    }
}
