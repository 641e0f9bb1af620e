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
   * What they say for certain: one folder alone may as well be named after a day or a place, and
   * names a device only where it is known.
   *
   * @param path from the inbox on, with slashes, the file's name last
   */
  public static TagWords of(String path, KnownDevices known) {
    return words(path, known, folders(path).size() > 1);
  }

  /** The same with one folder alone taken for a unit: for what is proposed to a tester. */
  public static TagWords proposed(String path) {
    return words(path, new KnownDevices(), true);
  }

  /** The folder that would name the unit, where it stands alone. */
  public static Optional<String> alone(String path) {
    List<String> folders = folders(path);
    return folders.size() == 1 ? Optional.of(folders.get(0)) : Optional.empty();
  }

  private static List<String> folders(String path) {
    List<String> folders = new ArrayList<>(List.of(path.split("/")));
    folders.remove(folders.size() - 1);
    return folders;
  }

  private static TagWords words(String path, KnownDevices known, boolean orNew) {
    List<String> folders = folders(path);
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    if (!folders.isEmpty()) device(folders.remove(0), known, orNew, tags);
    // A carriage's name is no version: the folder of the firmware may be left out.
    if (!folders.isEmpty() && !carriage(folders.get(0), tags))
      tags.put(TagName.FIRMWARE, folders.get(0));
    if (folders.size() > 1) carriage(folders.get(1), tags);
    return TagWords.ofWhole(TagSource.FOLDER, tags, path);
  }

  private static void device(
      String name, KnownDevices known, boolean orNew, Map<TagName, String> tags) {
    Optional<String> unit = known.unit(name);
    if (unit.isEmpty() && known.isModel(name)) {
      tags.put(TagName.MODEL, name);
      List<String> units = known.unitsOf(name);
      // Of several units the folder doesn't say which: the page asks.
      if (units.size() == 1) tags.put(TagName.UNIT, units.get(0));
    } else if (unit.isPresent() || orNew) {
      tags.put(TagName.UNIT, unit.orElse(name));
    }
  }

  private static boolean carriage(String name, Map<TagName, String> tags) {
    Optional<Carriage> carriage = Carriage.of(name);
    carriage.ifPresent(c -> tags.put(TagName.CARRIAGE, c.code()));
    return carriage.isPresent();
  }
}
