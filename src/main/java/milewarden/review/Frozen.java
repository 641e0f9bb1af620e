package milewarden.review;

import java.util.Optional;
import milewarden.store.Id.FileId;
import milewarden.store.Id.ResultId;
import milewarden.store.Tx;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.Tags;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.replay.CapsuleContents;

/** Gathers what a verdict rests on at the moment of its publishing: tags may change later. */
final class Frozen {
  private Frozen() {}

  static CapsuleContents of(
      Tx tx, ModelHistory history, PublishedVerdict verdict, ReleaseJudgement release) {
    return new CapsuleContents(
        verdict,
        history.standing(),
        release.release(),
        history.otherModelsUnits(),
        history.passesOf(verdict.firmware()).stream().map(p -> pass(tx, p)).toList());
  }

  private static CapsuleContents.Pass pass(Tx tx, PassEvidence p) {
    Results.How how = Results.how(tx, new ResultId(p.resultId())).orElseThrow();
    Optional<ReceivedFiles.Received> file =
        Runs.find(tx, how.run()).flatMap(Runs.Run::file).flatMap(f -> ReceivedFiles.find(tx, f));
    return new CapsuleContents.Pass(
        p,
        file.map(ReceivedFiles.Received::sha256).orElse(""),
        file.map(ReceivedFiles.Received::path).orElse(""),
        how.pass(),
        how.options(),
        file.flatMap(f -> columns(tx, f.id())));
  }

  private static Optional<String> columns(Tx tx, FileId file) {
    return Optional.ofNullable(Tags.winners(Tags.of(tx, file), Tags.WHOLE).get(TagName.COLUMNS))
        .map(Tags.Tag::value);
  }
}
