package milewarden.intake.drop;

import java.util.ArrayList;
import java.util.List;
import milewarden.intake.drop.DropFolder.Seen;
import milewarden.store.file.ReceivedFiles.Kind;

/** The order of taking in: what speaks for the tracks beside it goes first. */
final class SheetsFirst {
  private SheetsFirst() {}

  static List<Seen> of(List<Seen> files) {
    List<Seen> order = new ArrayList<>();
    for (Seen s : files) if (isSheet(s)) order.add(s);
    for (Seen s : files) if (!isSheet(s)) order.add(s);
    return order;
  }

  static boolean isSheet(Seen seen) {
    return DroppedName.kind(seen.path()) != Kind.TRACK;
  }
}
