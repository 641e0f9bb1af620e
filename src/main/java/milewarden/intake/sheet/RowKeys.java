package milewarden.intake.sheet;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import milewarden.store.file.SheetRows;
import milewarden.track.SheetRow;
import milewarden.track.TagName;

/**
 * By what the rows of a sheet are known: session, unit and pass. What a row leaves empty is filled
 * so that the same sheet, revised, finds its rows again: the date or the folder for the session,
 * the track's name or the place among its like for the pass.
 */
public final class RowKeys {
  private RowKeys() {}

  /**
   * The keys of a sheet's rows, in their order.
   *
   * @param folder of the sheet, from the inbox on
   */
  public static List<SheetRows.Key> of(List<SheetRow> rows, String folder) {
    Map<String, Integer> likes = new HashMap<>();
    List<SheetRows.Key> keys = new ArrayList<>();
    for (SheetRow row : rows) {
      Map<TagName, String> tags = row.tags();
      String session =
          tags.getOrDefault(TagName.SESSION, tags.getOrDefault(TagName.DATE, "in " + folder));
      String unit = tags.getOrDefault(TagName.UNIT, "");
      String pass = tags.getOrDefault(TagName.PASS, "");
      if (pass.isEmpty()) {
        String like = row.file().map(f -> "file " + f).orElse("row");
        int nth = likes.merge(session + "\n" + unit + "\n" + like, 1, Integer::sum);
        pass = nth == 1 ? like : like + " " + nth;
      }
      keys.add(new SheetRows.Key(session, unit, pass));
    }
    return keys;
  }
}
