package milewarden.web.page;

import io.javalin.http.Context;
import java.io.ByteArrayOutputStream;
import milewarden.review.CapsuleFile;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.Verdicts;
import milewarden.web.desk.Sent;

/** The verdict that an address names by its model and its number. */
final class Published {
  private Published() {}

  static Verdicts.OnRecord verdict(Tx tx, Context http) {
    long number = Sent.part(http, "number");
    return Verdicts.find(tx, new ModelId(Sent.part(http, "model")), number)
        .orElseThrow(() -> Sent.missing("verdict"));
  }

  /** Answers with its capsule. */
  static void capsule(Database database, Context http) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    boolean written = database.read(tx -> CapsuleFile.write(tx, verdict(tx, http).id(), bytes));
    if (!written) throw Sent.missing("capsule: the verdict was published before they were kept");
    http.contentType("application/zip").result(bytes.toByteArray());
  }
}
