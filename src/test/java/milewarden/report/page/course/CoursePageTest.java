package milewarden.report.page.course;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.CourseSlug;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.course.ReferenceCourse.HeightPoint;
import milewarden.course.SkyView;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.report.Digits;
import milewarden.report.page.Fact;
import milewarden.units.UnitChoice;
import milewarden.verdict.ground.CourseWatch;
import org.junit.jupiter.api.Test;

final class CoursePageTest {
  private static CoursePage page(HeightPoint... profile) {
    Position from = new Position(45, -30);
    ReferenceCourse course =
        new ReferenceCourse(
            new CourseSlug("hill"),
            "",
            "Hill",
            false,
            new Polyline(List.of(from, Geodesics.direct(from, 90, 900))),
            List.of(),
            1000,
            0.1,
            Optional.empty(),
            "",
            Method.WHEEL,
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            List.of(profile),
            OptionalDouble.empty(),
            "",
            SkyView.OPEN,
            "",
            Map.of());
    return CoursePage.of(
        course,
        new CoursePage.Beside(
            Optional.empty(),
            new CourseWatch(List.of()),
            Optional.empty(),
            List.of(),
            "",
            "",
            List.of()),
        Digits.of(UnitChoice.METRIC, ZoneOffset.UTC));
  }

  private static Fact referenceOfATrack(CoursePage page) {
    return page.facts().stream()
        .filter(f -> f.name().equals("reference of a track"))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void bothReferencesStandOnThePage() {
    // 3-4-5: of 500 m along the slope and 300 m up, 400 m are left on the map.
    Fact hill = referenceOfATrack(page(new HeightPoint(100, 0), new HeightPoint(600, 300)));
    assertThat(hill.value()).isEqualTo("900.0\u00a0m");
    assertThat(hill.remark()).endsWith("against 1,000.0\u00a0m");
    assertThat(referenceOfATrack(page()).value()).isEqualTo("1,000.0\u00a0m");
  }

  @Test
  void whatIsNotOfTheNewestSaysWhenItWasWorkedOut() {
    Digits digits = Digits.of(UnitChoice.METRIC, ZoneOffset.UTC);
    CourseWatch none = new CourseWatch(List.of());
    assertThat(WatchLines.of(none, Optional.empty(), digits).quiet())
        .noneMatch(line -> line.startsWith("Worked out"));
    assertThat(
            WatchLines.of(none, Optional.of(Instant.parse("2026-05-12T07:05:00Z")), digits).quiet())
        .anyMatch(line -> line.startsWith("Worked out at 12 May 2026, 07:05, "));
  }
}
