package milewarden.intake.typed;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import milewarden.format.SheetWriter;
import milewarden.track.SheetRow;
import milewarden.track.TagName;

/** A field sheet as a file for a spreadsheet. */
public final class SheetTable {
  private static final List<TagName> NUMBERS =
      List.of(TagName.SHOWN, TagName.SHOWN_STEP, TagName.STANDING_S, TagName.FIX_WAIT_S);

  private SheetTable() {}

  /**
   * The sheet's bytes.
   *
   * @param decimalComma where its numbers have a comma, semicolons part the cells: so do
   *     spreadsheets of such a place
   */
  public static byte[] of(List<SheetRow> rows, boolean decimalComma) {
    return decimalComma
        ? SheetWriter.write(
            rows.stream().map(SheetTable::withComma).toList(), SheetWriter.Separator.SEMICOLON)
        : SheetWriter.write(rows, SheetWriter.Separator.COMMA);
  }

  private static SheetRow withComma(SheetRow row) {
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    row.tags()
        .forEach(
            (name, value) ->
                tags.put(name, NUMBERS.contains(name) ? value.replace('.', ',') : value));
    return new SheetRow(row.row(), tags, row.file(), row.extra());
  }
}
