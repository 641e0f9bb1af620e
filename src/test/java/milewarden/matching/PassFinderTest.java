package milewarden.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.LocalMetric;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/** Passes by marks and by gates, against walks whose laps, marks and directions are known. */
final class PassFinderTest {
  private static final Receiver NOISY = Receiver.PERFECT.withNoise(4, 20, 0.5);
  private static final List<Long> SEEDS = MatchingCases.freshSeeds(10);

  // A gate or a mark carries the error of one fix: 4 sigma of 4 m.
  private static final double ONE_FIX_M = 16;

  private static Track track(Walk walk, long seed) {
    return TrackSimulator.simulate(walk.withVariation(0.05, 0.3), NOISY, Sky.CLEAR, seed).track();
  }

  private static Passes find(Track track, ReferenceCourse course) {
    return find(track, course, Optional.empty(), OptionalInt.empty());
  }

  private static Passes find(
      Track track, ReferenceCourse course, Optional<Bounds> bounds, OptionalInt laps) {
    Match match = match(track, course);
    return PassFinder.find(match, bounds, laps);
  }

  private static Match match(Track track, ReferenceCourse course) {
    return CourseMatcher.of(course).match(track, Timeline.of(track), Optional.empty());
  }

  @Test
  void whatBeginsAndEndsOnTheMarksIsBoundedByThem() {
    for (long seed : SEEDS)
      for (ReferenceCourse course : List.of(Shapes.hairpin(), Shapes.oval())) {
        Track t = track(Walk.of(course).withStanding(10), seed);
        Passes passes = find(t, course);
        assertThat(passes.guessed()).isTrue();
        assertThat(passes.spans()).as("%s, seed %d", course.slug(), seed).hasSize(1);
        PassSpan span = passes.spans().get(0);
        assertThat(span.bounds()).isEqualTo(Bounds.MARKS);
        assertThat(span.from()).isEqualTo(PassEnd.at(0));
        assertThat(span.to()).isEqualTo(PassEnd.at(t.size() - 1));
      }
  }

  @Test
  void whatGoesOnBeyondBothMarksIsCutByGatesWhereTheChainagePasses() {
    ReferenceCourse course = Shapes.hairpin();
    for (long seed : SEEDS) {
      Track t = track(Walk.of(course).withGates(60), seed);
      Match match = match(t, course);
      PassSpan span = find(t, course).spans().get(0);
      assertThat(span.bounds()).isEqualTo(Bounds.GATES);
      assertThat(at(match, span.from())).isCloseTo(0, within(1e-9));
      assertThat(at(match, span.to())).isCloseTo(match.lengthM(), within(1e-9));
    }
  }

  /** Matched chainage at an end, between its fixes in proportion. */
  private static double at(Match match, PassEnd end) {
    double a = match.chainageM()[end.fix()];
    if (end.fraction() == 0) return a;
    return a + end.fraction() * (match.chainageM()[end.fix() + 1] - a);
  }

  @Test
  void aTagWinsOverTheGuess() {
    ReferenceCourse course = Shapes.hairpin();
    Track t = track(Walk.of(course).withGates(60), SEEDS.get(0));
    Passes passes = find(t, course, Optional.of(Bounds.MARKS), OptionalInt.empty());
    assertThat(passes.guessed()).isFalse();
    assertThat(passes.spans()).hasSize(1);
    assertThat(passes.spans().get(0).bounds()).isEqualTo(Bounds.MARKS);
    assertThat(passes.spans().get(0).from()).isEqualTo(PassEnd.at(0));
  }

  @Test
  void aRecordingHoldsAsManyPassesAsWereWalkedEachInItsDirection() {
    ReferenceCourse course = Shapes.straight(700);
    for (long seed : SEEDS)
      for (double lead : new double[] {0, 60}) {
        Walk walk = Walk.of(course).withLaps(4);
        Passes passes = find(track(lead > 0 ? walk.withGates(lead) : walk, seed), course);
        assertThat(passes.spans().stream().map(PassSpan::direction).toList())
            .as("lead %s, seed %d", lead, seed)
            .containsExactly(
                Direction.FORWARD, Direction.REVERSE, Direction.FORWARD, Direction.REVERSE);
      }
  }

  @Test
  void partialLapsAreLeftOutAndNamedWithTheirLengths() {
    ReferenceCourse course = Shapes.oval();
    double l = course.line().lengthM();
    for (long seed : SEEDS) {
      Passes passes = find(track(Walk.of(course).withLaps(4).withStartChainage(170), seed), course);
      assertThat(passes.spans()).hasSize(3);
      assertThat(passes.partials()).as("seed %d", seed).hasSize(2);
      Passes.Partial before = passes.partials().get(0);
      Passes.Partial behind = passes.partials().get(1);
      assertThat(before.first()).isTrue();
      assertThat(behind.first()).isFalse();
      assertThat(before.lengthM()).isCloseTo(l - 170, within(ONE_FIX_M));
      assertThat(behind.lengthM()).isCloseTo(170, within(ONE_FIX_M));
    }
  }

  @Test
  void aPartOfALapAloneIsNoPassAndNamed() {
    // From the first vertex behind 50 m to the last before 350 m: it never comes to the gate.
    ReferenceCourse course = Shapes.oval();
    List<Position> part = new ArrayList<>();
    double[] along = course.line().chainagesM();
    for (int i = 0; i < along.length; i++)
      if (along[i] >= 50 && along[i] <= 350) part.add(course.line().positions().get(i));
    ReferenceCourse way = InventedCourse.of("part", "part", false, part);
    Passes passes = find(track(Walk.of(way), SEEDS.get(0)), course);
    assertThat(passes.spans()).isEmpty();
    assertThat(passes.partials()).hasSize(1);
    assertThat(passes.partials().get(0).lengthM())
        .isCloseTo(way.horizontalM(), within(2 * ONE_FIX_M));
  }

  @Test
  void lapsAreCountedInEitherDirection() {
    ReferenceCourse course = Shapes.oval();
    for (Direction direction : Direction.values())
      for (int laps : new int[] {1, 2, 5, 12}) {
        long seed = SEEDS.get(laps % SEEDS.size());
        Track t = track(Walk.of(course).withLaps(laps).withDirection(direction), seed);
        PassSpan span = find(t, course).spans().get(0);
        assertThat(span.laps()).isEqualTo(laps);
        assertThat(span.seams()).hasSize(laps - 1);
        assertThat(span.direction()).isEqualTo(direction);
      }
  }

  @Test
  void aLabelChangesNoCountAndIsToldWhereItDiffers() {
    ReferenceCourse loop = Shapes.oval();
    Track marks = track(Walk.of(loop).withLaps(3), SEEDS.get(0));
    Track gates = track(Walk.of(loop).withLaps(3).withGates(60), SEEDS.get(0));
    ReferenceCourse path = Shapes.straight(700);
    Track ways = track(Walk.of(path).withLaps(3), SEEDS.get(0));
    for (int label = 1; label <= 6; label++) {
      OptionalInt said = OptionalInt.of(label);
      OptionalInt told = label == 3 ? OptionalInt.empty() : OptionalInt.of(3);
      Passes byMarks = find(marks, loop, Optional.of(Bounds.MARKS), said);
      assertThat(byMarks.spans()).extracting(PassSpan::laps).containsExactly(3);
      assertThat(byMarks.lapsSeen()).isEqualTo(told);
      Passes byGates = find(gates, loop, Optional.of(Bounds.GATES), said);
      assertThat(byGates.spans()).hasSize(3);
      assertThat(byGates.lapsSeen()).isEqualTo(told);
      Passes there = find(ways, path, Optional.empty(), said);
      assertThat(there.spans()).hasSize(3);
      assertThat(there.lapsSeen()).isEqualTo(told);
    }
  }

  @Test
  void oneInstantEndsALapAndBeginsTheNextSoThatLapsAddUp() {
    ReferenceCourse course = Shapes.oval();
    for (long seed : SEEDS) {
      Track t = track(Walk.of(course).withLaps(5).withGates(60), seed);
      List<PassSpan> laps = find(t, course).spans();
      assertThat(laps).hasSize(5);
      double sum = length(t, laps.get(0));
      for (int i = 1; i < laps.size(); i++) {
        assertThat(laps.get(i).from()).isEqualTo(laps.get(i - 1).to());
        sum += length(t, laps.get(i));
      }
      PassSpan whole =
          new PassSpan(
              Direction.FORWARD, Bounds.GATES, 5, laps.get(0).from(), laps.get(4).to(), List.of());
      // Ten roundings at 2 km.
      assertThat(sum).isCloseTo(length(t, whole), within(1e-8));
    }
  }

  private static double length(Track t, PassSpan span) {
    double sum = 0;
    for (int i = span.from().fix(); i <= span.to().fix(); i++) {
      double from = i == span.from().fix() ? span.from().fraction() : 0;
      double to = i == span.to().fix() ? span.to().fraction() : 1;
      if (to > from) sum += (to - from) * step(t, i);
    }
    return sum;
  }

  private static double step(Track t, int i) {
    double[] lat = t.latitudesDeg();
    double[] lon = t.longitudesDeg();
    return LocalMetric.lengthM(lat[i], lon[i], lat[i + 1], lon[i + 1]);
  }

  @Test
  void whoStandsBeforeTheGateHasNotBegun() {
    // A minute on the gate itself: noise passes it again and again; the pass begins with the last
    // upward passage before sustained progress.
    ReferenceCourse course = Shapes.straight(700);
    for (long seed : SEEDS) {
      Walk walk =
          Walk.of(course)
              .withGates(60)
              .withPauses(List.of(new Walk.Pause(0, 60), new Walk.Pause(700, 60)));
      Track t = track(walk, seed);
      Match match = match(t, course);
      PassSpan span = find(t, course).spans().get(0);
      for (int i = span.from().fix() + 1; i + 1 < t.size(); i++)
        if (match.placeM()[i] < 30)
          assertThat(match.chainageM()[i] < 0 && match.chainageM()[i + 1] >= 0)
              .as("upward again at fix %d, seed %d", i, seed)
              .isFalse();
      for (int i = 0; i < span.to().fix(); i++)
        if (match.placeM()[i] > match.lengthM() - 30)
          assertThat(match.chainageM()[i + 1]).as("seed %d", seed).isLessThan(match.lengthM());
    }
  }

  @Test
  void whoTurnsRoundOnALoopRunsALapEachWay() {
    ReferenceCourse course = Shapes.oval();
    List<Position> lap = course.line().positions();
    List<Position> way = new ArrayList<>(lap);
    way.addAll(lap.subList(1, lap.size() / 2));
    List<Position> back = new ArrayList<>(way.subList(0, way.size() - 1));
    Collections.reverse(back);
    way.addAll(back);
    for (long seed : SEEDS) {
      Track t = track(Walk.of(InventedCourse.of("way", "way", false, way)), seed);
      Passes passes = find(t, course);
      assertThat(passes.spans().stream().map(PassSpan::direction).toList())
          .as("seed %d", seed)
          .containsExactly(Direction.FORWARD, Direction.REVERSE);
    }
  }
}
