package milewarden.alert;

import jakarta.mail.MessagingException;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import milewarden.store.told.Outbox;

/** Messages kept as files where there is no mail server: one {@code .eml} each. */
final class MailFolder {
  private static final DateTimeFormatter WHEN =
      DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmss'Z'", Locale.ROOT).withZone(ZoneOffset.UTC);

  private final Path folder;

  MailFolder(Path folder) {
    this.folder = folder;
  }

  /** Writes a letter; written twice it is still one file. */
  Path write(Letter letter, Outbox.Message row) throws IOException, MessagingException {
    Files.createDirectories(folder);
    Path file = folder.resolve(WHEN.format(row.createdAt()) + "-" + row.id().value() + ".eml");
    Path part = folder.resolve(file.getFileName() + ".part");
    try (OutputStream out = Files.newOutputStream(part)) {
      letter.writeTo(out);
    }
    // A reader of the folder never sees half a message.
    return Files.move(part, file, StandardCopyOption.REPLACE_EXISTING);
  }
}
