package milewarden.intake;

import static milewarden.intake.Tester.HANDS;
import static milewarden.intake.Tester.PIER;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.store.file.Contents;
import milewarden.store.file.Offer;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.run.Results;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import milewarden.track.Track;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Recordings that leave their times or columns open, from the folder to the run. */
final class AskingTest {
  // Two hours ahead of UTC in May: IANA time zone database, rule EU.
  private static final ZoneId ZONE = ZoneId.of("Europe/Berlin");
  private static final double METRES = 440;

  @TempDir Path data;
  private Tester tester;

  @BeforeEach
  void open() {
    tester = new Tester(data, HANDS, ZONE);
    tester.course(PIER);
  }

  @AfterEach
  void close() {
    tester.close();
  }

  private static final Track WALK =
      TrackSimulator.simulate(Walk.of(PIER), Receiver.PERFECT.withNoise(1.0, 20, 0.1), Sky.CLEAR, 4)
          .track();

  /** A walk along the pier as a table, a fix a second; {@code M} counts from 0 to 440. */
  private static String table(String heading, String start, String more) {
    StringBuilder text = new StringBuilder("time,lat,lon" + heading + "\n");
    for (int i = 0; i < WALK.size(); i++) {
      String m = String.format(Locale.ROOT, "%.7f", METRES * i / (WALK.size() - 1.0));
      text.append(at(start, i))
          .append(
              String.format(
                  Locale.ROOT, ",%.8f,%.8f", WALK.latitudesDeg()[i], WALK.longitudesDeg()[i]))
          .append(more.isEmpty() ? "" : "," + more.replace("M", m))
          .append('\n');
    }
    return text.toString();
  }

  private static String at(String start, int s) {
    String zone = start.endsWith("Z") ? "Z" : "";
    Instant t = Instant.parse(zone.isEmpty() ? start + "Z" : start).plusSeconds(s);
    return t.toString().replace("Z", zone);
  }

  private Received answer(Received file, TagName name, String value) {
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    tags.put(name, value);
    assertThat(new TagForm(tester.database, () -> {}).apply(List.of(file.id()), tags)).isEmpty();
    tester.measuring.work();
    return tester.row(file.id());
  }

  private List<String> proposed(Received file) {
    List<String> all = new ArrayList<>();
    for (Offer offer : file.offers()) all.addAll(offer.answers());
    return all;
  }

  private void waits(Received file, TagName... asked) {
    assertThat(file.state()).as("" + file.reason()).isEqualTo(State.WAITING);
    assertThat(file.missing()).containsExactly(asked);
    assertThat(tester.runs()).noneMatch(run -> run.file().equals(java.util.Optional.of(file.id())));
  }

  private Instant start(Received file) {
    assertThat(file.state()).as("" + file.reason()).isEqualTo(State.MEASURED);
    return tester.run(file.id()).facts().startedAt();
  }

  private List<String> findings(Received file) {
    return tester.database.read(
        tx ->
            Results.find(tx, tester.run(file.id()).id())
                .orElseThrow()
                .measurement()
                .findings()
                .stream()
                .map(f -> f.code() + " " + f.detail())
                .toList());
  }

  @Test
  void timesWithoutAZoneAreProposedToBeLocalAndMovedOnlyWhenTheTesterSaysSo() {
    byte[] bytes = table("", "2026-05-12T09:00:00", "").getBytes(StandardCharsets.UTF_8);
    Received file = tester.drop("K1/1.0/hand/a.csv", bytes);
    waits(file, TagName.CLOCK);
    assertThat(proposed(file)).containsExactly("local", "as-read");
    assertThat(file.reason().orElseThrow().sentence()).contains("Europe/Berlin");
    file = answer(file, TagName.CLOCK, "local");
    assertThat(start(file)).isEqualTo(Instant.parse("2026-05-12T07:00:00Z"));
    assertThat(findings(file)).contains("CLOCK_MOVED by \u22122:00 h");
    assertThat(tester.tag(file.id(), TagName.CLOCK).orElseThrow().source())
        .isEqualTo(TagSource.EDIT);
    // The bytes are those that came.
    String sha256 = file.sha256();
    assertThat(tester.database.read(tx -> Contents.bytes(tx, sha256)).orElseThrow())
        .isEqualTo(bytes);
    // Another word moves it anew, and taking it back asks no more: it counts already.
    file = answer(file, TagName.CLOCK, "-01:45");
    assertThat(start(file)).isEqualTo(Instant.parse("2026-05-12T07:15:00Z"));
    file = answer(file, TagName.CLOCK, "as-read");
    assertThat(start(file)).isEqualTo(Instant.parse("2026-05-12T09:00:00Z"));
    assertThat(findings(file)).noneMatch(f -> f.startsWith("CLOCK_MOVED"));
  }

  // Summer time in Berlin is two hours ahead of UTC.
  @ParameterizedTest
  @CsvSource({
    "+12 days, 2026-05-13T09:00:00Z, by +12 days",
    "-3 days 01:20, 2026-04-28T07:40:00Z, by \u22123 days and 1:20 h",
    "began 2026-05-12 07:05, 2026-05-12T05:05:00Z, by +10 days and 20:05 h",
  })
  void aClockThatIsOffByDaysIsAnsweredInDaysOrByWhenItBegan(
      String said, String begins, String words) {
    Received file = tester.drop("K1/1.0/hand/a.csv", table("", "2026-05-01T09:00:00Z", ""));
    file = answer(file, TagName.CLOCK, said);
    assertThat(start(file)).isEqualTo(Instant.parse(begins));
    assertThat(findings(file)).contains("CLOCK_MOVED " + words);
    assertThat(tester.run(file.id()).facts().startedAt()).isEqualTo(Instant.parse(begins));
  }

  @Test
  void whereTheLocalZoneIsUtcNothingIsAsked() {
    try (Tester other = new Tester(data.resolve("utc"), HANDS)) {
      other.course(PIER);
      Received file = other.drop("K1/1.0/hand/a.csv", table("", "2026-05-12T09:00:00", ""));
      assertThat(file.state()).isEqualTo(State.MEASURED);
    }
  }

  @Test
  void aZoneInTheFileIsBelieved() {
    Received file = tester.drop("K1/1.0/hand/a.csv", table("", "2026-05-12T09:00:00Z", ""));
    assertThat(start(file)).isEqualTo(Instant.parse("2026-05-12T09:00:00Z"));
  }

  // The sheet says 09:00 local, that is 07:00 UTC.
  @ParameterizedTest
  @CsvSource({
    "2026-05-12T09:01:30Z, -02:00",
    "2026-05-12T01:17:00Z, +05:45",
    "2026-05-11T21:00:10Z, +10:00",
  })
  void aClockThatTheSheetContradictsByAZoneIsProposedToBeMoved(String start, String proposal) {
    sheet("S1,2026-05-12,09:00,K1,1,a.csv");
    Received file = tester.drop("day/a.csv", table("", start, ""));
    waits(file, TagName.CLOCK);
    assertThat(proposed(file)).containsExactly(proposal, "as-read");
    file = answer(file, TagName.CLOCK, proposal);
    assertThat(start(file)).isBetween("2026-05-12T06:57:00Z", "2026-05-12T07:05:00Z");
    assertThat(tester.run(file.id()).sessionName()).isEqualTo("S1");
  }

  @ParameterizedTest
  @CsvSource({
    // A late start; a difference that no clock zone makes; another day's work.
    "2026-05-12T07:12:00Z",
    "2026-05-12T08:37:30Z",
    "2026-05-13T12:00:00Z"
  })
  void whatNoZoneExplainsIsNotProposed(String start) {
    sheet("S1,2026-05-12,09:00,K1,1,a.csv");
    assertThat(tester.drop("day/a.csv", table("", start, "")).state()).isEqualTo(State.MEASURED);
  }

  @Test
  void aTimeThatTheSheetGivesToSeveralRecordingsOfAUnitIsTheSessions() {
    sheet("S1,2026-05-12,09:00,K1,1,a.csv", "S1,2026-05-12,09:00,K1,2,b.csv");
    Received later = tester.drop("day/b.csv", table("", "2026-05-12T08:00:00Z", ""));
    assertThat(later.state()).isEqualTo(State.MEASURED);
  }

  @Test
  void aRunThatCountsIsNotTakenBackByALaterSheetButSaysSo() {
    Received file = tester.drop("day/a.csv", table("", "2026-05-12T09:00:00Z", ""));
    Map<TagName, String> tags = Map.of(TagName.UNIT, "K1", TagName.FIRMWARE, "1.0");
    assertThat(new TagForm(tester.database, () -> {}).apply(List.of(file.id()), tags)).isEmpty();
    tester.measuring.work();
    sheet("S1,2026-05-12,09:00,K1,1,a.csv");
    file = tester.row(file.id());
    assertThat(start(file)).isEqualTo(Instant.parse("2026-05-12T09:00:00Z"));
    assertThat(findings(file)).contains("CLOCK_DOUBTFUL move its times by \u221202:00 h?");
    file = answer(file, TagName.CLOCK, "-02:00");
    assertThat(start(file)).isEqualTo(Instant.parse("2026-05-12T07:00:00Z"));
    assertThat(findings(file)).noneMatch(f -> f.startsWith("CLOCK_DOUBTFUL"));
  }

  @Test
  void theSheetItselfCanCarryTheAnswer() {
    sheet("S1,2026-05-12,09:00,K1,1,a.csv,-02:00");
    Received file = tester.drop("day/a.csv", table("", "2026-05-12T09:00:00Z", ""));
    assertThat(start(file)).isEqualTo(Instant.parse("2026-05-12T07:00:00Z"));
    assertThat(tester.tag(file.id(), TagName.CLOCK).orElseThrow().origin())
        .isEqualTo("session.csv, row 2");
  }

  @Test
  void aRecordingOfADayThatIsToComeSaysSoAndCounts() {
    sheet("S1,2026-06-12,,K1,1,a.csv", "S2,2026-05-12,,K1,1,b.csv");
    Received file = tester.drop("day/a.csv", table("", "2026-06-12T12:30:00Z", ""));
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(findings(file))
        .as("31 days from 12 May to 12 June")
        .contains("CLOCK_DOUBTFUL it begins 31 days after it came in");
    Received now = tester.drop("day/b.csv", table("", "2026-05-12T07:00:00Z", ""));
    assertThat(findings(now)).noneMatch(f -> f.startsWith("CLOCK_DOUBTFUL"));
    file = answer(file, TagName.CLOCK, "as-read");
    assertThat(findings(file)).noneMatch(f -> f.startsWith("CLOCK_DOUBTFUL"));
  }

  // The times of a sheet are local.
  private void sheet(String... rows) {
    List<String> all = new ArrayList<>();
    for (String row : rows) all.add(row + (row.endsWith(".csv") ? "," : "") + ",1.0,hand,walk");
    tester.drop(
        "day/session.csv",
        "session,date,time,unit,pass,file,clock,firmware,carriage,gait\n"
            + String.join("\n", all)
            + "\n");
  }

  @Test
  void aRecordingFarFromTheOthersOfItsSessionIsProposedToBeMoved() {
    sheet("S1,2026-05-12,,K1,1,a.csv", "S1,2026-05-12,,K2,1,b.csv", "S1,2026-05-12,,K3,1,c.csv");
    Received first = tester.drop("day/a.csv", table("", "2026-05-12T07:00:00Z", ""));
    assertThat(first.state()).isEqualTo(State.MEASURED);
    // Carried along, its clock seven hours behind.
    Received wrong = tester.drop("day/b.csv", table("", "2026-05-12T00:00:40Z", ""));
    waits(wrong, TagName.CLOCK);
    assertThat(proposed(wrong)).containsExactly("+07:00", "as-read");
    assertThat(wrong.reason().orElseThrow().sentence()).contains("S1");
    wrong = answer(wrong, TagName.CLOCK, "+07:00");
    assertThat(start(wrong)).isEqualTo(Instant.parse("2026-05-12T07:00:40Z"));
    Received evening = tester.drop("day/c.csv", table("", "2026-05-12T16:07:00Z", ""));
    assertThat(evening.state()).isEqualTo(State.MEASURED);
  }

  @ParameterizedTest
  // 7,168 days before 2026-05-12 is 2006-09-26: 1,024 weeks of 7 days.
  @CsvSource({"260906, +1024 weeks", "120526, ''"})
  void aDateBefore1024WeeksIsProposedToBeMovedAndNotBefore(String ddmmyy, String proposal) {
    StringBuilder log = new StringBuilder();
    for (String line : table("", "2026-05-12T07:00:00Z", "").lines().skip(1).toList()) {
      String[] cells = line.split(",");
      String body =
          String.format(
              Locale.ROOT,
              "GPRMC,%s,A,%s,N,%s,E,3.9,30.0,%s,,,A",
              cells[0].substring(11, 19).replace(":", ""),
              dm(cells[1], 2),
              dm(cells[2], 3),
              ddmmyy);
      int sum = 0;
      for (char c : body.toCharArray()) sum ^= c;
      log.append(String.format(Locale.ROOT, "$%s*%02X\r\n", body, sum));
    }
    Received file = tester.drop("K1/1.0/hand/a.nmea", log.toString());
    if (!proposal.isEmpty()) {
      waits(file, TagName.CLOCK);
      assertThat(proposed(file)).containsExactly(proposal, "as-read");
      assertThat(file.reason().orElseThrow().sentence()).contains("2006-09-26", "2026-05-12");
      file = answer(file, TagName.CLOCK, proposal);
      assertThat(findings(file)).contains("CLOCK_MOVED by +7168 days");
    }
    assertThat(start(file)).isEqualTo(Instant.parse("2026-05-12T07:00:00Z"));
  }

  private static String dm(String degrees, int digits) {
    double d = Double.parseDouble(degrees);
    return String.format(Locale.ROOT, "%0" + digits + "d%09.6f", (int) d, (d - (int) d) * 60);
  }

  @Test
  void aLogWithoutADateIsAskedForIt() {
    StringBuilder log = new StringBuilder();
    for (String line : table("", "2026-05-12T22:30:00Z", "").lines().skip(1).toList()) {
      String[] cells = line.split(",");
      log.append("$GPGGA,")
          .append(cells[0].substring(11, 19).replace(":", ""))
          .append(',' + dm(cells[1], 2) + ",N," + dm(cells[2], 3) + ",E,1,9,0.9,5.0,M,,M,,\n");
    }
    Received file = tester.drop("K1/1.0/hand/a.nmea", log.toString());
    waits(file, TagName.DATE);
    // The local date: half past midnight there is still the day before by UTC.
    file = answer(file, TagName.DATE, "2026-05-13");
    assertThat(start(file)).isEqualTo(Instant.parse("2026-05-12T22:30:00Z"));
  }

  @Test
  void aDistanceWithoutAUnitIsAskedForAndReadAsAnswered() {
    Received file =
        tester.drop("K1/1.0/hand/a.csv", table(",Distance", "2026-05-12T09:00:00Z", "M"));
    waits(file, TagName.COLUMNS);
    assertThat(proposed(file)).containsExactly("4=m", "4=km", "4=mi", "4=ft", "4=skip");
    assertThat(file.offers().get(0).subject()).isEqualTo("column 4, “Distance”");
    file = answer(file, TagName.COLUMNS, "4=skip");
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(recordedM(file)).isEmpty();
  }

  @ParameterizedTest
  // The column counts 0 to 440 in that unit; foot and mile by NIST SP 811.
  @CsvSource({"4=m, 440", "4=ft, 134.112", "4=mi, 708111.36"})
  void theUnitThatIsAnsweredHolds(String answer, double metres) {
    Received file =
        tester.drop("K1/1.0/hand/a.csv", table(",Distance", "2026-05-12T09:00:00Z", "M"));
    file = answer(file, TagName.COLUMNS, answer);
    assertThat(recordedM(file).orElseThrow())
        .isCloseTo(metres, org.assertj.core.data.Offset.offset(1e-6));
  }

  private java.util.OptionalDouble recordedM(Received file) {
    return tester.database.read(
        tx ->
            Results.find(tx, tester.run(file.id()).id())
                .orElseThrow()
                .measurement()
                .recordedLengthM());
  }

  @Test
  void aSecondLatitudeIsAskedFor() {
    String text = table(",Latitude", "2026-05-12T09:00:00Z", "9.9");
    Received file = tester.drop("K1/1.0/hand/a.csv", text);
    waits(file, TagName.COLUMNS);
    assertThat(proposed(file)).containsExactly("4=use", "4=skip");
    file = answer(file, TagName.COLUMNS, "4=skip");
    assertThat(file.state()).isEqualTo(State.MEASURED);
    // The other answer makes it another place, where no course is.
    file = answer(file, TagName.COLUMNS, "4=use");
    assertThat(file.reason().orElseThrow().code()).isEqualTo("no-course");
  }

  @ParameterizedTest
  @CsvSource({"dates=day-first, 2026-11-05T09:00:00Z", "dates=month-first, 2026-05-11T09:00:00Z"})
  void datesThatCanBeReadTwoWaysAreAskedFor(String answer, String start) {
    String text =
        table("", "2026-05-12T09:00:00Z", "")
            .replace("2026-05-12T", "05/11/2026 ")
            .replace("Z,", " Z,");
    Received file = tester.drop("K1/1.0/hand/a.csv", text);
    assertThat(file.state()).isEqualTo(State.WAITING);
    assertThat(file.missing()).contains(TagName.COLUMNS);
    assertThat(proposed(file)).contains("dates=day-first", "dates=month-first");
    file = answer(file, TagName.COLUMNS, answer);
    assertThat(start(file)).isEqualTo(Instant.parse(start));
  }

  @ParameterizedTest
  @CsvSource({
    "CLOCK, -02:07",
    "CLOCK, +30:00",
    "CLOCK, yesterday",
    "CLOCK, +1000 weeks",
    "COLUMNS, 4",
    "COLUMNS, 4=furlong"
  })
  void anAnswerThatMeansNothingIsSaidAndNotTaken(TagName name, String value) {
    Received file = tester.drop("K1/1.0/hand/a.csv", table("", "2026-05-12T09:00:00Z", ""));
    List<TagForm.Problem> problems =
        new TagForm(tester.database, () -> {}).apply(List.of(file.id()), Map.of(name, value));
    assertThat(problems).extracting(TagForm.Problem::name).containsExactly(name);
    assertThat(problems.get(0).sentence()).contains(value, "Write");
  }
}
