package milewarden.intake.tag;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import java.util.Optional;
import milewarden.track.DeviceClaim;
import milewarden.track.TagName;
import org.junit.jupiter.api.Test;

final class FolderTagsTest {
  private final KnownDevices known = new KnownDevices();

  private Map<TagName, String> of(String path) {
    return FolderTags.of(path, known).values();
  }

  @Test
  void threeFoldersSayUnitFirmwareAndCarriage() {
    assertThat(of("K1/2.1.0/swing-left/run.gpx"))
        .isEqualTo(
            Map.of(TagName.UNIT, "K1", TagName.FIRMWARE, "2.1.0", TagName.CARRIAGE, "swing-left"));
  }

  @Test
  void aFolderAloneNamesADeviceOnlyWhereItIsKnown() {
    assertThat(of("summer/run.gpx")).isEmpty();
    assertThat(FolderTags.alone("summer/run.gpx")).contains("summer");
    assertThat(FolderTags.alone("summer/2.0/run.gpx")).isEmpty();
    known.add("Summer", "Quorvane");
    assertThat(of("summer/run.gpx")).isEqualTo(Map.of(TagName.UNIT, "Summer"));
    // What is only proposed may be new.
    assertThat(FolderTags.proposed("autumn/run.gpx").values())
        .isEqualTo(Map.of(TagName.UNIT, "autumn"));
  }

  @Test
  void aFileInTheInboxItselfIsTaggedByNoFolder() {
    assertThat(of("run.gpx")).isEmpty();
  }

  @Test
  void aFolderWithTheNameOfAModelMeansItsOnlyUnit() {
    known.add("K1", "Quorvane");
    assertThat(of("quorvane/2.0/run.gpx"))
        .isEqualTo(Map.of(TagName.MODEL, "quorvane", TagName.UNIT, "K1", TagName.FIRMWARE, "2.0"));
    known.add("K2", "Quorvane");
    assertThat(of("quorvane/2.0/run.gpx")).doesNotContainKey(TagName.UNIT);
  }

  @Test
  void aCarriageIsNeverTakenForAFirmware() {
    assertThat(of("K1/fixed/run.gpx"))
        .isEqualTo(Map.of(TagName.UNIT, "K1", TagName.CARRIAGE, "fixed"));
    assertThat(of("K1/2.0/by hand/run.gpx")).doesNotContainKey(TagName.CARRIAGE);
  }

  @Test
  void theFilesClaimNamesAUnitByModelAndSerialUnlessTheSerialIsKnown() {
    DeviceClaim claim =
        new DeviceClaim(
            Optional.of("Quorvane"), Optional.empty(), Optional.of("0042"), Optional.of("2.1"));
    assertThat(ClaimTags.of(claim, known).values())
        .isEqualTo(
            Map.of(
                TagName.MODEL, "Quorvane", TagName.UNIT, "Quorvane 0042", TagName.FIRMWARE, "2.1"));
    known.add("0042", "Quorvane");
    assertThat(ClaimTags.of(claim, known).values()).containsEntry(TagName.UNIT, "0042");
    assertThat(ClaimTags.of(DeviceClaim.NONE, known).values()).isEmpty();
  }
}
