package milewarden.intake;

import java.util.List;
import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.intake.tag.KnownDevices;
import milewarden.matching.CourseIndex;
import milewarden.store.Tx;
import milewarden.store.run.Courses;
import milewarden.store.run.Models;

/** The devices and courses that the store knows at one moment. */
record Known(KnownDevices devices, List<ReferenceCourse> courses, CourseIndex index) {

  /**
   * @param before what was known last: the index of unchanged courses is taken over
   */
  static Known load(Tx tx, Optional<Known> before) {
    KnownDevices devices = new KnownDevices();
    Models.all(tx).forEach(m -> devices.addModel(m.name()));
    Models.units(tx).forEach(u -> devices.add(u.name(), u.modelName()));
    List<ReferenceCourse> courses = Courses.inForce(tx);
    List<String> versions = versions(courses);
    CourseIndex index =
        before
            .filter(k -> versions(k.courses()).equals(versions))
            .map(Known::index)
            .orElseGet(() -> CourseIndex.of(courses));
    return new Known(devices, courses, index);
  }

  /** True where a course came or changed since: what was found by these is out of date. */
  boolean isStale(Tx tx) {
    return !versions(Courses.inForce(tx)).equals(versions(courses));
  }

  private static List<String> versions(List<ReferenceCourse> courses) {
    return courses.stream().map(c -> c.slug() + " " + c.version()).toList();
  }

  Optional<ReferenceCourse> course(String slug) {
    return courses.stream().filter(c -> c.slug().text().equals(slug)).findFirst();
  }
}
