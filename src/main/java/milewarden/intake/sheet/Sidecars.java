package milewarden.intake.sheet;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.format.SidecarTags;
import milewarden.intake.drop.DroppedName;
import milewarden.intake.tag.TagWords;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.track.SheetRead;
import milewarden.track.SheetRow;
import milewarden.track.TagSource;

/** Files of tags, each beside one track: the newest in its place speaks for the track there. */
public final class Sidecars {
  private Sidecars() {}

  /** Takes one: a track that lies beside it is measured again. */
  public static void take(Tx tx, Received sidecar) {
    read(tx, sidecar)
        .fold(
            usable -> {
              Optional<Reason> said = new SheetRemarks(usable.problems()).reason();
              if (said.isPresent()) FileQueue.measured(tx, sidecar.id(), said.get());
              else FileQueue.measured(tx, sidecar.id());
              again(tx, sidecar);
              return 0;
            },
            refused -> {
              FileQueue.refused(tx, sidecar.id(), SheetRemarks.refused(refused.why()));
              return 0;
            });
  }

  private static void again(Tx tx, Received sidecar) {
    String track =
        sidecar.path().substring(0, sidecar.path().length() - DroppedName.SIDECAR.length());
    for (Received file : ReceivedFiles.atPath(tx, track))
      if (file.kind() == Kind.TRACK) FileQueue.again(tx, file.id());
  }

  private static SheetRead read(Tx tx, Received sidecar) {
    byte[] bytes =
        Contents.bytes(tx, sidecar.sha256())
            .orElseThrow(() -> new IllegalStateException("no bytes of " + sidecar.sha256()));
    String path = sidecar.path();
    String name = path.substring(path.lastIndexOf('/') + 1);
    return SidecarTags.read(bytes, name.substring(0, name.length() - DroppedName.SIDECAR.length()));
  }

  /**
   * What the newest file of tags beside a track says of it; empty where there is none.
   *
   * @param atItsPath what came by the path of its file of tags
   */
  public static List<TagWords> words(Tx tx, List<Received> atItsPath) {
    List<Received> beside = new ArrayList<>(atItsPath);
    beside.removeIf(r -> r.kind() != Kind.SIDECAR || r.state() == State.REFUSED);
    if (beside.isEmpty()) return List.of();
    Received newest = beside.get(beside.size() - 1);
    return read(tx, newest).fold(u -> words(u, newest), r -> List.of());
  }

  private static List<TagWords> words(SheetRead.Usable read, Received sidecar) {
    List<TagWords> words = new ArrayList<>();
    List<SheetRow> rows = read.rows();
    String origin = sidecar.path().substring(sidecar.path().lastIndexOf('/') + 1);
    for (int i = 0; i < rows.size(); i++) {
      int pass = rows.size() == 1 ? TagWords.WHOLE : i + 1;
      words.add(new TagWords(pass, TagSource.SIDECAR, Map.copyOf(rows.get(i).tags()), origin));
    }
    return words;
  }
}
