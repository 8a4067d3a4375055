package daylight.report;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.nio.file.Path;
import java.util.Optional;

/** Reports to look at in tests. */
final class ReportCars {
    /** A pedal that swings past a bracket; its names hold what HTML, CSS and XML would trip over. */
    static final String NASTY = """
            daylight: 1
            car: "Pedal <b>& 'friends'\\" \\\\ </style><script>alert(1)</script>"
            reference: "</title> & \\"VIN\\""
            units: in
            datum: "a <floor> & a 'line'"
            points:
              pedal axis start: [0, 17, 24]
              pedal axis end:   [0, 14, 24]
            mechanisms:
              pedal: {layout: plain-swing, forward: 30 deg, back: 2 deg}
            parts:
              "arm <b>&\\"'</b>": {on: pedal arm, tube: {od: 3/4, through: [[0, 15 1/2, 23 1/4], [-1 1/2, 15 1/2, 14]]}}
              pedal pad: {on: pedal arm, box: {centre: [-1 3/4, 15 1/2, 13], size: [1/2, 2 1/2, 2]}}
              "bracket ]]> {{car}}":
                {on: chassis, plate: {thick: 3/16, outline: [[0, 0], [4, 0], [4, 3], [0, 3]],
                 corners on car: [[1 1/4, 15 7/8, 19], [5 1/4, 15 7/8, 19], [5 1/4, 15 7/8, 22]]}}
              firewall: {on: chassis, box: {from corner: [8, 10, 8], to corner: [8 1/4, 22, 30]}}
            rules:
              - {between: [any, any], at least: 1/2, source: "<i>my own & \\"only\\"</i>"}
            """;

    private ReportCars() {}

    static Report demo(String file) throws CarFileException {
        MeasuredCar measured = MeasuredCar.read(Path.of("demo", file));
        return of(measured, measured.car().inches());
    }

    static Report of(String text, boolean inches) throws CarFileException {
        return of(MeasuredCar.of(CarDocument.of("pedal.yaml", text)), inches);
    }

    static Report of(MeasuredCar measured, boolean inches) throws CarFileException {
        Report.Source source = new Report.Source(
                "a car <&>.yaml", "0123456789abcdef".repeat(4), Optional.of("1 May <b>"), "daylight (a test)");
        return ReportStudy.of(measured, source, new Report.Style(inches, false), Asked.USUAL, Progress.SILENT)
                .orElseThrow();
    }
}
