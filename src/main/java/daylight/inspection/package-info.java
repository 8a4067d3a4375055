/**
 * What an inspector would look at: how near everything comes to the road, the scrub line, the travel that is left, the
 * steering from lock to lock, and the gaps, each held to the rule lists that the car file names.
 *
 * <p>Main type: {@link daylight.inspection.Inspection} makes an {@link daylight.inspection.InspectionReport} of a car and
 * its gap table.
 *
 * <pre>{@code
 * Car car = CarFile.read(Path.of("demo/harbour-pickup.yaml"));
 * GapTable gaps = GapSearch.of(car, Asked.USUAL).run(Progress.SILENT).orElseThrow();
 * InspectionReport report = Inspection.of(car, gaps, List.of(), Progress.SILENT).orElseThrow();
 * for (InspectionReport.Finding finding : report.findings()) {
 *     print(finding.verdict().word(), finding.what(), finding.why(), finding.rule().words());
 * }
 * }</pre>
 *
 * <p>Limits: the road is a plane under the wheels' circles; a flat tyre has no thickness, and the springs do not give
 * (the car rocks as a rigid body). Both wheels of an axle go through their travel alike. Only the local authority decides
 * what passes.
 */
@NullMarked
package daylight.inspection;

import org.jspecify.annotations.NullMarked;
