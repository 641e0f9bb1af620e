package milewarden.intake;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.format.GpxWriter;
import milewarden.geodesy.Position;
import milewarden.intake.drop.Receiving;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.StoreSettings;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.Tags;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.track.TagName;

/** A tester at work: courses, tracks and sheets that come in and are measured. */
final class Tester implements AutoCloseable {
  static final ZoneId ZONE = ZoneOffset.UTC;
  // Lies in no town: the open sea south of the gulf of Guinea.
  static final Position SOMEWHERE = new Position(1.0, 2.0);
  static final ReferenceCourse PIER = InventedCourse.straight("pier", SOMEWHERE, 30, 400);
  static final ReferenceCourse LOOP =
      InventedCourse.circle("loop", new Position(1.1, 2.0), 63.66, 120);
  static final Map<TagName, String> HANDS = Map.of(TagName.CARRIAGE, "hand", TagName.GAIT, "walk");

  final Database database;
  final Measuring measuring;
  Instant now = Instant.parse("2026-05-12T12:00:00Z");

  Tester(Path data, Map<TagName, String> defaults) {
    this(data, defaults, ZONE);
  }

  Tester(Path data, Map<TagName, String> defaults, ZoneId zone) {
    database = Database.open(StoreSettings.in(data), () -> now);
    InboxSettings usual = InboxSettings.DEFAULTS;
    measuring =
        new Measuring(
            database,
            new InboxSettings(usual.poll(), usual.standStill(), usual.sessionGap(), defaults),
            zone,
            () -> {});
  }

  InstantSource clock() {
    return () -> now;
  }

  @Override
  public void close() {
    database.close();
  }

  /** Walks a course with a good receiver; the recording as GPX. */
  static byte[] walk(ReferenceCourse course, String start, long seed) {
    return walk(Walk.of(course).withStart(Instant.parse(start)), seed);
  }

  static byte[] walk(Walk walk, long seed) {
    Receiver receiver = Receiver.PERFECT.withNoise(1.0, 20, 0.1);
    return GpxWriter.write(TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track())
        .getBytes(StandardCharsets.UTF_8);
  }

  static byte[] file(ReferenceCourse course) {
    return CourseFile.write(course).getBytes(StandardCharsets.UTF_8);
  }

  /** Puts a course in force as the courses' folder would. */
  void course(ReferenceCourse course) {
    byte[] bytes = file(course);
    ReferenceCourse read =
        CourseFile.read(bytes)
            .fold(
                u -> u.course(),
                r -> {
                  throw new AssertionError(r.issues());
                });
    database.change(
        tx -> {
          milewarden.store.run.Courses.put(
              tx, read, course.slug() + ".geojson", Contents.pack(bytes), List.of());
          Measuring.coursesChanged(tx, course.slug().text());
        });
    measuring.remeasure();
  }

  /** Receives a file as the inbox would. */
  FileId receive(String path, byte[] bytes) {
    Contents.Packed packed = Contents.pack(bytes);
    now = now.plus(Duration.ofSeconds(1));
    return database.write(tx -> Receiving.receive(tx, Batches.current(tx), path, packed));
  }

  FileId receive(String path, String text) {
    return receive(path, text.getBytes(StandardCharsets.UTF_8));
  }

  /** Receives and measures. */
  Received drop(String path, byte[] bytes) {
    FileId id = receive(path, bytes);
    measuring.work();
    return row(id);
  }

  Received drop(String path, String text) {
    return drop(path, text.getBytes(StandardCharsets.UTF_8));
  }

  Received row(FileId id) {
    return database.read(tx -> ReceivedFiles.find(tx, id)).orElseThrow();
  }

  Runs.Run run(FileId file) {
    return database.read(tx -> Runs.findOfFile(tx, file)).orElseThrow();
  }

  List<Runs.Run> runs() {
    return database.read(tx -> Runs.page(tx, 1000, 0));
  }

  List<Results.Summary> passes(Runs.Run run) {
    return database.read(tx -> Results.ofRun(tx, run.id(), Engine.VERSION));
  }

  Optional<Tags.Tag> tag(FileId file, TagName name) {
    List<Tags.Tag> tags = database.read(tx -> Tags.of(tx, file));
    return Optional.ofNullable(Tags.winners(tags, Tags.WHOLE).get(name));
  }
}
