package milewarden.track;

import java.util.Map;
import java.util.Optional;

/**
 * One row of a field sheet: a track, or a pass known by its shown distance alone.
 *
 * @param row the line of the file that it begins on, the header being line 1
 * @param tags the cells that were filled and understood, in the form of the tag vocabulary: numbers
 *     with a decimal point and the decimals as written, dates ISO 8601, codes in lower case
 * @param file the track's name as written; empty for a row without a track
 * @param extra unknown columns by their heading, only the filled ones
 */
public record SheetRow(
    int row, Map<TagName, String> tags, Optional<String> file, Map<String, String> extra) {
  public SheetRow {
    tags = Map.copyOf(tags);
    extra = Map.copyOf(extra);
  }
}
