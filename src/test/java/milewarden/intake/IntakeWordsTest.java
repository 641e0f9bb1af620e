package milewarden.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import milewarden.intake.tag.Gap;
import milewarden.track.TagName;
import org.junit.jupiter.api.Test;

final class IntakeWordsTest {
  private static Gap missing(TagName name) {
    return new Gap(name, Gap.Kind.MISSING, "");
  }

  @Test
  void whatIsMissingIsNamedAndWhereItCanBeSaid() {
    assertThat(IntakeWords.of(List.of(missing(TagName.FIRMWARE), missing(TagName.GAIT))))
        .contains("firmware and gait")
        .contains("by the folder's name");
  }

  @Test
  void noFolderSaysTheGait() {
    assertThat(IntakeWords.of(List.of(missing(TagName.GAIT))))
        .contains("session.csv")
        .doesNotContain("folder");
  }

  @Test
  void aWordOutsideTheVocabularyIsSaidWithTheWordsThatAre() {
    Gap odd = new Gap(TagName.CARRIAGE, Gap.Kind.NOT_UNDERSTOOD, "on the hat");
    assertThat(IntakeWords.of(List.of(odd))).contains("on the hat", "swing-left");
  }
}
