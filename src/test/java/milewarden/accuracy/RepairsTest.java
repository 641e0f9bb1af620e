package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import java.util.stream.Collectors;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Position;
import milewarden.report.pass.RepairWords;
import milewarden.simulator.Faults;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Drops;
import milewarden.track.Issue;
import org.junit.jupiter.api.Test;

/** Every repair is counted: what the simulator spoilt is the truth. */
final class RepairsTest {
  private static final ReferenceCourse COURSE =
      InventedCourse.straight("straight", new Position(46.5, -31.5), 20, 1000);

  private static RecordingQuality of(Faults faults, long seed) {
    Receiver receiver = Receiver.PERFECT.withNoise(1.5, 20, 0.2);
    SimulatedTrack made = TrackSimulator.simulate(Walk.of(COURSE), receiver, Sky.CLEAR, seed);
    return Measurer.measure(
            faults.spoil(made, seed).track(), COURSE, MeasureOptions.NONE.withBounds(Bounds.MARKS))
        .recording();
  }

  @Test
  void whatWasSpoiltIsCounted() {
    for (long seed = 1; seed <= 5; seed++) {
      RecordingQuality q = of(new Faults(4, 3, 5, 2), seed);
      assertThat(q.duplicateTimes()).isEqualTo(4);
      assertThat(q.backwardTimes()).isEqualTo(3);
      assertThat(q.repeatedPositions()).isEqualTo(5);
      assertThat(q.spikes()).isEqualTo(2);
      Map<String, Integer> said =
          RepairWords.rows(q).stream()
              .collect(Collectors.toMap(RepairWords.Row::what, RepairWords.Row::count));
      assertThat(said.values()).containsExactlyInAnyOrder(4, 3, 5, 2);
    }
  }

  @Test
  void aRecordingThatNeedsNoRepairListsNone() {
    assertThat(RepairWords.rows(of(Faults.NONE, 1))).isEmpty();
  }

  @Test
  void whatWasLeftOutWhileReadingIsARepairToo() {
    Drops drops =
        new Drops(
            10,
            7,
            Map.of(Issue.Kind.POSITION_SENTINEL, 3, Issue.Kind.TIME_REPEATED, 1),
            java.util.List.of());
    assertThat(of(Faults.NONE, 1).withDrops(drops).repairs())
        .containsExactly(new RecordingQuality.Repair("position-sentinel", 3));
  }
}
