package milewarden.intake.drop;

import java.io.IOException;
import java.io.InputStream;

/** The bytes of a file that came from elsewhere, opened as often as it takes. */
@FunctionalInterface
public interface Bytes {
  InputStream open() throws IOException;
}
