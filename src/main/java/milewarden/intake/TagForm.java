package milewarden.intake;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.intake.tag.Gap;
import milewarden.intake.tag.GapWords;
import milewarden.intake.tag.TagReader;
import milewarden.intake.tag.TagSettling;
import milewarden.intake.tag.TagWords;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.Tx;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.file.Tags;
import milewarden.store.run.Courses;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/** The tester's edits of tags, for many files at once; the files are measured again. */
public final class TagForm {
  private static final String ORIGIN = "dashboard";

  private final Database database;
  private final Runnable wakeMeasuring;

  public TagForm(Database database, Runnable wakeMeasuring) {
    this.database = database;
    this.wakeMeasuring = wakeMeasuring;
  }

  /** A tag that can't be taken, and why. */
  public record Problem(TagName name, String sentence) {}

  /**
   * Takes the same words for all of these files, or none of them.
   *
   * @param tags an empty text takes an earlier edit back
   * @return what can't be taken; empty where all was
   */
  public List<Problem> apply(List<FileId> files, Map<TagName, String> tags) {
    List<Problem> problems =
        database.write(
            tx -> {
              List<Problem> wrong = wrong(tx, tags);
              if (wrong.isEmpty()) for (FileId file : files) edit(tx, file, tags);
              return wrong;
            });
    if (problems.isEmpty()) wakeMeasuring.run();
    return problems;
  }

  /** Takes over what came with a second copy of the same bytes, as an edit of the first. */
  public void adopt(FileId duplicate) {
    database.change(
        tx -> {
          Optional<Received> copy = ReceivedFiles.find(tx, duplicate);
          Optional<FileId> first = copy.flatMap(Received::duplicateOf);
          if (first.isEmpty()) return;
          edit(tx, first.get(), others(tx, copy.get()));
        });
    wakeMeasuring.run();
  }

  /**
   * What the tags of a second copy of the same bytes say otherwise than those of the first, and
   * what only they say.
   */
  public static Map<TagName, String> others(Tx tx, Received copy) {
    Map<TagName, String> others = new EnumMap<>(TagName.class);
    if (copy.duplicateOf().isEmpty()) return others;
    Map<TagName, Tags.Tag> known = Tags.winners(Tags.of(tx, copy.duplicateOf().get()), Tags.WHOLE);
    Tags.winners(Tags.of(tx, copy.id()), Tags.WHOLE)
        .forEach(
            (name, tag) -> {
              Tags.Tag before = known.get(name);
              if (before == null || !before.value().equals(tag.value()))
                others.put(name, tag.value());
            });
    return others;
  }

  private static void edit(Tx tx, FileId file, Map<TagName, String> tags) {
    Optional<Received> row = ReceivedFiles.find(tx, file);
    if (row.isEmpty() || row.get().state() == State.DUPLICATE) return;
    tags.forEach(
        (name, value) -> {
          if (value.isBlank()) Tags.drop(tx, file, Tags.WHOLE, TagSource.EDIT, name);
        });
    TagWords words = TagWords.ofWhole(TagSource.EDIT, tags, ORIGIN);
    Tags.put(tx, file, Tags.WHOLE, TagSource.EDIT, words.values(), ORIGIN);
    FileQueue.again(tx, file);
  }

  private static List<Problem> wrong(Tx tx, Map<TagName, String> tags) {
    TagWords words = TagWords.ofWhole(TagSource.EDIT, tags, ORIGIN);
    List<Gap> gaps = new ArrayList<>();
    // Only what was said is looked at: the rest may come from elsewhere.
    TagReader.read(TagSettling.settle(List.of(words)))
        .fold(c -> List.<Gap>of(), i -> i.gaps())
        .forEach(g -> gaps.add(g));
    gaps.removeIf(g -> g.kind() != Gap.Kind.NOT_UNDERSTOOD);
    String course = words.values().get(TagName.COURSE);
    if (course != null && !Courses.versionsInForce(tx).containsKey(course))
      gaps.add(new Gap(TagName.COURSE, Gap.Kind.UNKNOWN, course));
    return gaps.stream().map(g -> new Problem(g.name(), GapWords.of(List.of(g)))).toList();
  }
}
