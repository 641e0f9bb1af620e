package milewarden.intake;

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

/** The devices and courses that the store knows at one moment. */
record Known(KnownDevices devices, List<ReferenceCourse> courses, CourseIndex index) {

  /**
   * @param before what was known last: unchanged courses and their index are taken over
   */
  static Known load(Tx tx, Optional<Known> before) {
    KnownDevices devices = new KnownDevices();
    Models.all(tx).forEach(m -> devices.addModel(m.name()));
    Models.units(tx).forEach(u -> devices.add(u.name(), u.modelName()));
    if (before.isPresent() && !before.get().isStale(tx))
      return new Known(devices, before.get().courses(), before.get().index());
    List<ReferenceCourse> courses = Courses.inForce(tx);
    return new Known(devices, courses, CourseIndex.of(courses));
  }

  /** True where a course came or changed since: what was found by these is out of date. */
  boolean isStale(Tx tx) {
    Map<String, String> ours = new TreeMap<>();
    courses.forEach(c -> ours.put(c.slug().text(), c.version()));
    return !Courses.versionsInForce(tx).equals(ours);
  }

  Optional<ReferenceCourse> course(String slug) {
    return courses.stream().filter(c -> c.slug().text().equals(slug)).findFirst();
  }
}
