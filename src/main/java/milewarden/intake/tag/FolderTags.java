package milewarden.intake.tag;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.device.Carriage;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/** What the folders' names say: {@code inbox/<unit or model>/<firmware>/<carriage>/}. */
public final class FolderTags {
  private FolderTags() {}

  /**
   * @param path from the inbox on, with slashes, the file's name last
   */
  public static TagWords of(String path, KnownDevices known) {
    List<String> folders = new ArrayList<>(List.of(path.split("/")));
    folders.remove(folders.size() - 1);
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    if (!folders.isEmpty()) device(folders.remove(0), known, tags);
    // A carriage's name is no version: the folder of the firmware may be left out.
    if (!folders.isEmpty() && !carriage(folders.get(0), tags))
      tags.put(TagName.FIRMWARE, folders.get(0));
    if (folders.size() > 1) carriage(folders.get(1), tags);
    return TagWords.ofWhole(TagSource.FOLDER, tags, path);
  }

  private static void device(String name, KnownDevices known, Map<TagName, String> tags) {
    if (known.unit(name).isEmpty() && known.isModel(name)) {
      tags.put(TagName.MODEL, name);
      List<String> units = known.unitsOf(name);
      // Of several units the folder doesn't say which: the page asks.
      if (units.size() == 1) tags.put(TagName.UNIT, units.get(0));
    } else {
      tags.put(TagName.UNIT, known.unit(name).orElse(name));
    }
  }

  private static boolean carriage(String name, Map<TagName, String> tags) {
    Optional<Carriage> carriage = Carriage.of(name);
    carriage.ifPresent(c -> tags.put(TagName.CARRIAGE, c.code()));
    return carriage.isPresent();
  }
}
