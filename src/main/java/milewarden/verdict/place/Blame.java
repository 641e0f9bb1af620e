package milewarden.verdict.place;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.stream.DoubleStream;
import milewarden.statistics.Contrast;
import milewarden.statistics.LeastSquares;
import milewarden.statistics.Sample;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Source;
import milewarden.verdict.place.DeviceDayCourse.Finding;
import milewarden.verdict.place.DeviceDayCourse.Place;
import milewarden.verdict.place.DeviceDayCourse.What;

/**
 * Tells device, day and course apart by the control units that were carried beside the model: what
 * moves them too is not the firmware.
 *
 * <p>Sizes come from the median polish, so that one wild cell moves none. A statement needs a t
 * test on whole sessions as well: the model's change against the control's in the same sessions,
 * and the control's own, each at 1 %; places at 1 % shared among them. Where nothing happened,
 * something is said in about 4 % of 2,000 simulated comparisons, days included.
 */
public final class Blame {
  private static final double ALPHA = 0.01;
  // The other side of a shared place must move too, by an ordinary test.
  private static final double ORDINARY = 0.05;
  private static final int FEWEST = 3;
  // A robust z beyond which a session is set apart: Iglewicz and Hoaglin (1993), How to Detect and
  // Handle Outliers.
  private static final double SET_APART = 3.5;
  // Short enough to find road works, long enough that noise averages (common practice, no source).
  private static final int MOST_STRETCHES = 20;
  private static final double SHORTEST_STRETCH_M = 50;

  private final Optional<String> course;
  private final List<Place> places;
  private final Side candidate;
  private final Side baseline;
  private final double smallest;

  private Blame(
      Optional<String> course, List<Place> places, Side candidate, Side baseline, double smallest) {
    this.course = course;
    this.places = places;
    this.candidate = candidate.sharing();
    this.baseline = baseline.sharing();
    this.smallest = smallest;
  }

  /**
   * Of the track's excess on one version of one course.
   *
   * @param candidate the model's under the candidate, and the control units' of the same sessions
   * @param baseline the model's under the baseline, and the control units' of the same sessions
   * @param smallest change of the whole course's excess that is worth a statement, points
   * @return empty where either side has no pass
   */
  public static Optional<DeviceDayCourse> of(
      Collection<PlacedPass> candidate, Collection<PlacedPass> baseline, double smallest) {
    if (candidate.isEmpty() || baseline.isEmpty()) return Optional.empty();
    PlacedPass any = candidate.iterator().next();
    List<Place> stretches = stretches(any.condition().course(), any.lengthM());
    return Optional.of(
        new Blame(
                Optional.of(any.condition().course()),
                stretches,
                Side.ofStretches(candidate, stretches),
                Side.ofStretches(baseline, stretches),
                smallest)
            .tell());
  }

  /** The same of the errors by one source, over the courses that both sides were run on. */
  public static Optional<DeviceDayCourse> ofErrors(
      Collection<PassEvidence> candidate,
      Collection<PassEvidence> baseline,
      Source source,
      double smallest) {
    List<Place> courses =
        candidate.stream()
            .map(p -> p.condition().course())
            .distinct()
            .sorted()
            .filter(c -> baseline.stream().anyMatch(b -> b.condition().course().equals(c)))
            .map(Place::of)
            .toList();
    if (courses.isEmpty()) return Optional.empty();
    Source control = ofControls(candidate, baseline, source);
    return Optional.of(
        new Blame(
                Optional.empty(),
                courses,
                Side.ofCourses(candidate, source, control, courses),
                Side.ofCourses(baseline, source, control, courses),
                smallest)
            .tell());
  }

  /**
   * The source of the model's errors, where the control units carry it on both sides as often as
   * any other; else the one that they carry in most passes. Each device is held against itself, so
   * the two need not be the same.
   */
  private static Source ofControls(
      Collection<PassEvidence> candidate, Collection<PassEvidence> baseline, Source wanted) {
    Source best = wanted;
    long most = carried(candidate, baseline, wanted);
    for (Source each : Source.values()) {
      long carried = carried(candidate, baseline, each);
      if (carried > most) {
        most = carried;
        best = each;
      }
    }
    return best;
  }

  private static long carried(
      Collection<PassEvidence> candidate, Collection<PassEvidence> baseline, Source source) {
    return Math.min(carried(candidate, source), carried(baseline, source));
  }

  private static long carried(Collection<PassEvidence> passes, Source source) {
    return passes.stream().filter(p -> p.control() && PassError.of(p, source).isPresent()).count();
  }

  private static List<Place> stretches(String course, double lengthM) {
    int bins = (int) Math.ceil(lengthM / PlacedPass.BIN_M);
    double width = Math.max(SHORTEST_STRETCH_M, lengthM / MOST_STRETCHES);
    int each = (int) Math.ceil(width / PlacedPass.BIN_M);
    List<Place> made = new ArrayList<>();
    for (int from = 0; from < bins; from += each)
      made.add(
          Place.stretch(
              course,
              from * PlacedPass.BIN_M,
              Math.min(lengthM, (from + each) * PlacedPass.BIN_M)));
    // What is left at the end is no stretch of its own.
    int last = made.size() - 1;
    if (last > 0 && made.get(last).toM() - made.get(last).fromM() < width / 2) {
      Place rest = made.remove(last);
      made.set(last - 1, Place.stretch(course, made.get(last - 1).fromM(), rest.toM()));
    }
    return made;
  }

  private DeviceDayCourse tell() {
    PolishedChange fit = PolishedChange.of(candidate, baseline, places);
    List<Finding> findings = new ArrayList<>();
    if (candidate.paired().size() < FEWEST || baseline.paired().size() < FEWEST)
      findings.add(finding(What.CANNOT_TELL, fit.model()));
    else {
      whole(fit, findings);
      for (int p = 0; p < places.size(); p++) place(p, findings);
      days(fit, findings);
      if (findings.isEmpty()) findings.add(finding(What.NOTHING, fit.model()));
    }
    return new DeviceDayCourse(
        course,
        candidate.paired().size(),
        baseline.paired().size(),
        fit.common(),
        fit.devices(),
        fit.sessions(),
        fit.places(),
        fit.spread(),
        findings);
  }

  private static Finding finding(What what, double points) {
    return new Finding(what, points, Optional.empty(), Optional.empty());
  }

  private void whole(PolishedChange fit, List<Finding> findings) {
    Optional<Contrast> model = change(candidate.difference(), baseline.difference());
    Optional<Contrast> control = change(candidate.control(), baseline.control());
    if (model.filter(c -> c.p() < ALPHA).isPresent() && Math.abs(fit.model()) >= smallest)
      findings.add(finding(What.THIS_MODEL, fit.model()));
    if (control.filter(c -> c.p() < ALPHA).isPresent() && Math.abs(fit.common()) >= smallest)
      findings.add(finding(What.ALL_DEVICES, fit.common()));
  }

  /** Candidate minus baseline over sessions, the places' own levels taken out. */
  private Optional<Contrast> change(double[] after, double[] before) {
    double[] y = DoubleStream.concat(Arrays.stream(after), Arrays.stream(before)).toArray();
    double[][] first = candidate.shares();
    double[][] second = baseline.shares();
    double[][] columns = new double[places.size()][];
    for (int p = 0; p < columns.length; p++)
      columns[p] = DoubleStream.concat(Arrays.stream(first[p]), Arrays.stream(second[p])).toArray();
    double[] firmware = new double[y.length];
    Arrays.fill(firmware, 0, after.length, 1);
    return LeastSquares.coefficient(y, columns, firmware);
  }

  private void place(int p, List<Finding> findings) {
    Optional<Contrast> own = beyond(p, false);
    Optional<Contrast> theirs = beyond(p, true);
    if (own.isEmpty() || theirs.isEmpty()) return;
    Contrast model = own.get();
    Contrast control = theirs.get();
    double alpha = ALPHA / places.size();
    boolean sameWay = model.estimate() * control.estimate() > 0;
    Optional<Place> there = Optional.of(places.get(p));
    if (control.p() < alpha && model.p() < ORDINARY && sameWay)
      findings.add(
          new Finding(What.PLACE_ALL_DEVICES, control.estimate(), there, Optional.empty()));
    else if (model.p() < alpha && control.p() >= ORDINARY)
      findings.add(new Finding(What.PLACE_THIS_MODEL, model.estimate(), there, Optional.empty()));
  }

  /** The change in one place beyond that of the whole, of the controls or of the model. */
  private Optional<Contrast> beyond(int p, boolean control) {
    double[] after = candidate.beyond(p, control);
    double[] before = baseline.beyond(p, control);
    if (places.size() < 2 || after.length < FEWEST || before.length < FEWEST)
      return Optional.empty();
    return Optional.of(Contrast.pooled(Sample.of(after), Sample.of(before)));
  }

  /** A session in which model and control are both set apart, the same way. */
  private void days(PolishedChange fit, List<Finding> findings) {
    double[] model = apart(candidate.model(), baseline.model());
    double[] control = apart(candidate.control(), baseline.control());
    List<String> keys = candidate.paired();
    for (int s = 0; s < keys.size(); s++) {
      boolean both = Math.min(Math.abs(model[s]), Math.abs(control[s])) > SET_APART;
      double points = fit.sessions().get(s).points();
      if (both && model[s] * control[s] > 0 && Math.abs(points) >= smallest)
        findings.add(
            new Finding(
                What.SESSION_ALL_DEVICES, points, Optional.empty(), Optional.of(keys.get(s))));
    }
  }

  /** Robust z of the first side's sessions; the spread is that of both, each about its middle. */
  private static double[] apart(double[] x, double[] others) {
    double middle = Sample.median(x);
    double theirs = Sample.median(others);
    double spread =
        1.4826
            * Sample.median(
                DoubleStream.concat(
                        Arrays.stream(x).map(v -> Math.abs(v - middle)),
                        Arrays.stream(others).map(v -> Math.abs(v - theirs)))
                    .toArray());
    double[] z = new double[x.length];
    for (int i = 0; i < x.length; i++) z[i] = spread > 0 ? (x[i] - middle) / spread : 0;
    return z;
  }
}
