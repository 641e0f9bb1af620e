package milewarden.store.tables;

import java.io.IOException;
import java.io.InputStream;
import java.io.Reader;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Objects;
import org.flywaydb.core.api.ResourceProvider;
import org.flywaydb.core.api.resource.LoadableResource;
import org.jspecify.annotations.Nullable;

/**
 * The texts of the steps by their names. Looking for them would go through every entry of the jar,
 * at each start.
 */
public final class MigrationFiles implements ResourceProvider {
  /** Every step; a number that is not here was never used or never will be. */
  private static final String FOLDER = "/milewarden/store/";

  static final List<String> NAMES =
      List.of(
          "V1__ground.sql",
          "V2__recompute.sql",
          "V3__replay.sql",
          "V4__units.sql",
          "V5__plan.sql",
          "V6__reference_track.sql",
          "V7__alerts.sql",
          "V8__people.sql",
          "V10__offers.sql",
          "V11__stations.sql",
          "V12__looks_that_wait.sql",
          "V13__token_scopes.sql",
          "V15__parts.sql",
          "V17__smoothing_lag.sql",
          "V18__what_moved_last.sql",
          "V19__moved.sql",
          "V20__looks_beside.sql");

  @Override
  public @Nullable LoadableResource getResource(String name) {
    return NAMES.contains(name) ? new Step(name) : null;
  }

  @Override
  public Collection<LoadableResource> getResources(String prefix, String[] suffixes) {
    return NAMES.stream()
        .filter(n -> n.startsWith(prefix) && Arrays.stream(suffixes).anyMatch(n::endsWith))
        .<LoadableResource>map(Step::new)
        .toList();
  }

  /** The text of a step, before its words are put into a database's dialect. */
  static String text(String name) {
    try (InputStream in = MigrationFiles.class.getResourceAsStream(FOLDER + name)) {
      return new String(Objects.requireNonNull(in, name).readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(name, e);
    }
  }

  private static final class Step extends LoadableResource {
    private final String name;

    Step(String name) {
      this.name = name;
    }

    @Override
    public Reader read() {
      return new StringReader(text(name));
    }

    @Override
    public String getAbsolutePath() {
      return "milewarden/store/" + name;
    }

    @Override
    public String getAbsolutePathOnDisk() {
      return getAbsolutePath();
    }

    @Override
    public String getFilename() {
      return name;
    }

    @Override
    public String getRelativePath() {
      return name;
    }
  }
}
