package milewarden.verdict.place;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import milewarden.verdict.Condition;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Source;

/**
 * Where a difference of two releases comes from, on one version of one course.
 *
 * @param course slug
 */
public record Origin(String course, DifferenceStrip strip, DeviceDayCourse told) {

  /**
   * One per course on which both were run in common conditions, in order of first use.
   *
   * @param passes of both releases of the model, and of the control units in the same sessions
   * @param smallest change of the whole course's excess that is worth a statement, points
   */
  public static List<Origin> of(
      Collection<PlacedPass> passes, String candidate, String baseline, double smallest) {
    Set<Condition> after = conditions(passes, candidate);
    Set<Condition> common = conditions(passes, baseline);
    common.retainAll(after);
    Map<List<String>, List<PlacedPass>> byCourse = new LinkedHashMap<>();
    for (PlacedPass p : passes)
      byCourse
          .computeIfAbsent(
              List.of(p.condition().course(), p.condition().courseVersion()),
              k -> new ArrayList<>())
          .add(p);
    List<Origin> origins = new ArrayList<>();
    for (Map.Entry<List<String>, List<PlacedPass>> e : byCourse.entrySet()) {
      List<PlacedPass> of =
          e.getValue().stream().filter(p -> p.control() || common.contains(p.condition())).toList();
      origin(e.getKey().get(0), of, candidate, baseline, smallest).ifPresent(origins::add);
    }
    return List.copyOf(origins);
  }

  /**
   * Device, day or course by the errors themselves, over all courses.
   *
   * @param passes the model's, and the control units' in its sessions; excluded ones too
   * @return empty where no course is common
   */
  public static Optional<DeviceDayCourse> told(
      Collection<PassEvidence> passes,
      String model,
      String candidate,
      String baseline,
      Source source,
      double smallest) {
    List<PassEvidence> after = ownErrors(passes, model, candidate);
    List<PassEvidence> before = ownErrors(passes, model, baseline);
    Set<Condition> common = after.stream().map(PassEvidence::condition).collect(Collectors.toSet());
    common.retainAll(before.stream().map(PassEvidence::condition).collect(Collectors.toSet()));
    after = after.stream().filter(p -> common.contains(p.condition())).toList();
    before = before.stream().filter(p -> common.contains(p.condition())).toList();
    return Blame.ofErrors(
        withControlErrors(passes, after), withControlErrors(passes, before), source, smallest);
  }

  private static List<PassEvidence> ownErrors(
      Collection<PassEvidence> passes, String model, String firmware) {
    return passes.stream()
        .filter(p -> !p.control() && p.model().equals(model) && p.firmware().equals(firmware))
        .toList();
  }

  private static List<PassEvidence> withControlErrors(
      Collection<PassEvidence> all, List<PassEvidence> own) {
    Set<String> sessions = own.stream().map(PassEvidence::session).collect(Collectors.toSet());
    List<PassEvidence> both = new ArrayList<>(own);
    for (PassEvidence p : all) if (p.control() && sessions.contains(p.session())) both.add(p);
    return both;
  }

  private static Set<Condition> conditions(Collection<PlacedPass> passes, String firmware) {
    return passes.stream()
        .filter(p -> !p.control() && p.firmware().equals(firmware))
        .map(PlacedPass::condition)
        .collect(Collectors.toSet());
  }

  private static Optional<Origin> origin(
      String course, List<PlacedPass> passes, String candidate, String baseline, double smallest) {
    List<PlacedPass> after = own(passes, candidate);
    List<PlacedPass> before = own(passes, baseline);
    return DifferenceStrip.of(after, before)
        .flatMap(
            strip ->
                Blame.of(withControls(passes, after), withControls(passes, before), smallest)
                    .map(told -> new Origin(course, strip, told)));
  }

  private static List<PlacedPass> own(List<PlacedPass> passes, String firmware) {
    return passes.stream().filter(p -> !p.control() && p.firmware().equals(firmware)).toList();
  }

  /** A control of the model itself runs its own firmware: it is told by its mark alone. */
  private static List<PlacedPass> withControls(List<PlacedPass> all, List<PlacedPass> own) {
    Set<String> sessions = own.stream().map(PlacedPass::session).collect(Collectors.toSet());
    List<PlacedPass> both = new ArrayList<>(own);
    for (PlacedPass p : all) if (p.control() && sessions.contains(p.session())) both.add(p);
    return both;
  }
}
