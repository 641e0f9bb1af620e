package milewarden.intake;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.intake.tag.RunTags;
import milewarden.store.Id.FileId;
import milewarden.store.Id.ModelId;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.file.FileQueue;
import milewarden.store.file.Held;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.Tags;
import milewarden.store.judged.Marks;
import milewarden.store.run.Models;
import milewarden.store.run.PassesTogether;

/**
 * What the recordings of one transaction share while they are kept: asked of the store before the
 * first of them, and written after the last. Each statement that is saved shortens the turn to
 * write, which all stations wait for.
 */
final class Together {
  private final Tx tx;
  private final Said said;
  private final Map<FileId, Held> held;
  private final PassesTogether passes;
  private final List<Tags.Said> tags = new ArrayList<>();
  private final List<FileId> measured = new ArrayList<>();
  private final Changed aloud = new Changed();
  private final Changed quietly = new Changed();
  private final Map<String, Models.Unit> units = new HashMap<>();

  private Together(Tx tx, Said said, Map<FileId, Held> held) {
    this.tx = tx;
    this.said = said;
    this.held = held;
    this.passes = new PassesTogether(tx);
  }

  /** What is to be judged again. */
  private static final class Changed {
    final Set<ModelId> models = new LinkedHashSet<>();
    final List<RunId> runs = new ArrayList<>();
  }

  static Together of(Tx tx, List<Received> files) {
    return new Together(
        tx, Said.of(tx, files), Held.of(tx, files.stream().map(Received::id).toList()));
  }

  /** Nothing where another station took it over, or a tag was given meanwhile. */
  Optional<Held> held(FileId file) {
    return Optional.ofNullable(held.get(file));
  }

  /** What is said of the files now. */
  Said said() {
    return said;
  }

  PassesTogether passes() {
    return passes;
  }

  void add(Tags.Said words) {
    tags.add(words);
  }

  void measured(FileId file) {
    measured.add(file);
  }

  /** Marks what depends on a run, as {@link Marks#ofRun(Tx, RunId, boolean)}. */
  void mark(RunId run, boolean quiet) {
    (quiet ? quietly : aloud).runs.add(run);
  }

  void mark(ModelId model, boolean quiet) {
    (quiet ? quietly : aloud).models.add(model);
  }

  /** The unit of a run, asked for once. */
  Models.Unit unit(RunTags its) {
    return units.computeIfAbsent(its.unit(), u -> Models.unit(tx, u, its.model()));
  }

  void write() {
    Tags.put(tx, tags);
    passes.write();
    FileQueue.measured(tx, measured);
    mark(aloud, false);
    mark(quietly, true);
  }

  private void mark(Changed what, boolean quiet) {
    what.models.addAll(Marks.ofRuns(tx, what.runs));
    Marks.mark(tx, what.models, quiet);
  }
}
