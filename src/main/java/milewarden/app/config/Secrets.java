package milewarden.app.config;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Reads a secret's file. */
public final class Secrets {
  private Secrets() {}

  /** The file's text without the line break at its end. */
  public static String read(Path file) {
    try {
      return Files.readString(file).stripTrailing();
    } catch (IOException e) {
      throw new IllegalArgumentException("can't be read: " + file, e);
    }
  }
}
