package milewarden.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import milewarden.course.CourseSlug;
import milewarden.matching.CourseChoice.Nearest;
import org.junit.jupiter.api.Test;

/** What a tester reads of a recording whose course isn't known. */
final class IntakeWordsTest {
  private static String noCourse(double distanceM) {
    return IntakeWords.noCourse(Optional.of(new Nearest(new CourseSlug("mill-meadow"), distanceM)));
  }

  @Test
  void oneThatBreaksOffOnALineIsNotSaidToLieBesideIt() {
    assertThat(noCourse(2))
        .startsWith("It follows mill-meadow, 2 m from its line, on too little of it");
  }

  @Test
  void oneFarOffIsToldWhatIsNearest() {
    assertThat(noCourse(31))
        .startsWith("It lies on no known course; the nearest is mill-meadow, 31 m away.");
    assertThat(noCourse(25_400)).contains("mill-meadow, 25 km away");
  }
}
