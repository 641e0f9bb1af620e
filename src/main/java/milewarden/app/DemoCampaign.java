package milewarden.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.alert.MailSender;
import milewarden.app.config.Config;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.intake.CourseFolder;
import milewarden.intake.Measuring;
import milewarden.intake.drop.Inbox;
import milewarden.recipient.Audience;
import milewarden.report.Digits;
import milewarden.review.Publishing;
import milewarden.review.Review;
import milewarden.simulator.campaign.Campaign;
import milewarden.simulator.campaign.InventedRelease;
import milewarden.simulator.campaign.Outing;
import milewarden.store.Database;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Marks;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.verdict.Comparison;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict.Reason;

/**
 * Plays the invented campaign into an empty data folder in order of time, through the same drop
 * folder and the same stages as any tester's files; the store's time is the campaign's.
 */
final class DemoCampaign {
  private static final String TESTER = "Ilva Brandrose";
  private static final Policy POLICY = Policy.defaults();

  private final Config config;
  private final Campaign campaign;
  private final CampaignClock clock;
  private final Database database;
  private final Inbox inbox;
  private final Measuring measuring;
  private final CourseFolder courses;
  private final Review review;
  private final Publishing publishing;
  private final MailSender mail;
  private final DemoFiles files;
  private final Map<String, DemoRecord.Found> found = new LinkedHashMap<>();

  private DemoCampaign(Config config, Campaign campaign, CampaignClock clock, Database database) {
    this.config = config;
    this.campaign = campaign;
    this.clock = clock;
    this.database = database;
    // Each stage is called in turn: none needs waking.
    Runnable nobody = () -> {};
    inbox = new Inbox(config.data(), config.inbox().standStill(), database, clock, nobody);
    measuring = new Measuring(database, config.inbox(), config.zone(), nobody);
    courses = new CourseFolder(config.courses(), config.inbox().poll(), database, clock, nobody);
    Digits digits = ReaderDigits.of(config);
    Optional<String> link = config.publicUrl().map(URI::toString);
    review =
        new Review(
            database, POLICY, config.zone(), digits, link, Audience.nobody(config.zone()), nobody);
    publishing = new Publishing(database, POLICY, config.zone(), nobody);
    mail = new MailSender(database, config.mail(), config.data().resolve("outbox"));
    files = new DemoFiles(campaign.events());
  }

  /** Plays it to its end and leaves the record of what was found in the folder. */
  static DemoRecord play(Config config, Campaign campaign, long seed) {
    CampaignClock clock = new CampaignClock(campaign.events().get(0).at());
    try (Database database = Database.open(config.store(), clock)) {
      DemoCampaign demo = new DemoCampaign(config, campaign, clock, database);
      demo.layOutCourses();
      for (Campaign.Event event : campaign.events()) demo.happen(event);
      DemoRecord record =
          new DemoRecord(campaign.today().toString(), seed, new ArrayList<>(demo.found.values()));
      record.write(config.data());
      return record;
    }
  }

  private void layOutCourses() {
    for (ReferenceCourse course : campaign.courses())
      write(config.courses().resolve(course.slug() + ".geojson"), CourseFile.write(course));
    courses.sweep();
    standStill();
    courses.sweep();
  }

  private void happen(Campaign.Event event) {
    clock.moveTo(event.at());
    event.<Boolean>fold(
        run -> {
          run(run.outing());
          return true;
        },
        published -> {
          publish(published.release());
          return true;
        },
        registered -> {
          register(registered.release());
          return true;
        });
    judge();
  }

  private void run(Outing outing) {
    Path folder = config.data().resolve("inbox").resolve(outing.session().replace(' ', '-'));
    files.next().forEach((name, text) -> write(folder.resolve(name), text));
    inbox.sweep();
    standStill();
    inbox.sweep();
    measuring.work();
    // What is measured leaves the folder, and then its quiet closes the batch.
    inbox.sweep();
    inbox.sweep();
    removeIfEmpty(folder);
  }

  private void standStill() {
    clock.goOn(config.inbox().standStill().plus(config.inbox().poll()));
  }

  private void register(InventedRelease release) {
    database.change(
        tx -> {
          Models.Model model = Models.named(tx, release.model());
          Firmware.register(tx, model.id(), release.version(), release.releasedOn());
          Marks.mark(tx, model.id());
        });
  }

  private void publish(InventedRelease release) {
    Models.Model model = database.read(tx -> Models.named(tx, release.model()));
    boolean first = database.read(tx -> Verdicts.lines(tx, model.id())).isEmpty();
    Optional<Reason> reason = first ? Optional.empty() : Optional.of(Reason.NEW_FIRMWARE);
    publishing
        .publish(model.id(), release.version(), release.verdictWords(), reason, TESTER)
        .fold(
            done -> done.number(),
            refused -> {
              throw new IllegalStateException(refused.sentence());
            });
  }

  private void judge() {
    while (review.judgeNext()) {
      // Each model is a transaction of its own.
    }
    note();
    review.tell();
    mail.sendDue();
  }

  /** Notes the comparisons with the anchor of the day: a later verdict moves the anchor. */
  private void note() {
    for (ModelJudgement judgement : database.read(Judgements::all).values())
      for (Comparison c : judgement.comparisons())
        if (c.against() == Comparison.Against.ANCHOR)
          c.estimate()
              .ifPresent(
                  e ->
                      found.put(
                          judgement.model() + " " + c.candidate(),
                          new DemoRecord.Found(
                              judgement.model(),
                              c.candidate(),
                              c.outcome().name(),
                              c.because().name(),
                              c.baseline(),
                              c.candidateSessions(),
                              e.percent(),
                              e.interval().low(),
                              e.interval().high())));
  }

  private static void removeIfEmpty(Path folder) {
    try (Stream<Path> left = Files.list(folder)) {
      if (left.findAny().isEmpty()) Files.delete(folder);
    } catch (IOException e) {
      throw new UncheckedIOException("can't tidy " + folder, e);
    }
  }

  private static void write(Path file, String text) {
    try {
      Files.createDirectories(file.toAbsolutePath().getParent());
      Files.write(file, text.getBytes(StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new UncheckedIOException("can't write " + file, e);
    }
  }
}
