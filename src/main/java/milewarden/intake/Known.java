package milewarden.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import milewarden.course.ReferenceCourse;
import milewarden.intake.tag.KnownDevices;
import milewarden.matching.CourseIndex;
import milewarden.store.Tx;
import milewarden.store.run.Courses;
import milewarden.store.run.Models;

/**
 * The devices and courses that the store knows at one moment.
 *
 * @param unread slugs of courses in force whose line is damaged: what fits no other may be theirs
 */
record Known(
    KnownDevices devices, List<ReferenceCourse> courses, List<String> unread, CourseIndex index) {

  /**
   * @param before what was known last: unchanged courses and their index are taken over
   */
  static Known load(Tx tx, Optional<Known> before) {
    KnownDevices devices = new KnownDevices();
    Models.all(tx).forEach(m -> devices.addModel(m.name()));
    Models.units(tx).forEach(u -> devices.add(u.name(), u.modelName()));
    if (before.isPresent() && !before.get().isStale(tx))
      return new Known(
          devices, before.get().courses(), before.get().unread(), before.get().index());
    List<String> unread = new ArrayList<>();
    List<ReferenceCourse> courses =
        Courses.readable(tx, unread).stream().map(Courses.Known::course).toList();
    return new Known(devices, courses, List.copyOf(unread), CourseIndex.of(courses));
  }

  /** True where a course came, changed or was mended since: what was found is out of date. */
  boolean isStale(Tx tx) {
    Map<String, String> ours = new TreeMap<>();
    courses.forEach(c -> ours.put(c.slug().text(), c.version()));
    Map<String, String> now = Courses.versionsInForce(tx);
    if (unread.isEmpty()) return !now.equals(ours);
    List<String> unreadNow = new ArrayList<>();
    Courses.readable(tx, unreadNow);
    now.keySet().removeAll(unreadNow);
    return !unreadNow.equals(unread) || !now.equals(ours);
  }

  Optional<ReferenceCourse> course(String slug) {
    return courses.stream().filter(c -> c.slug().text().equals(slug)).findFirst();
  }
}
