package milewarden.intake.tag;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** The units and models that have been named so far; names are the same in any case. */
public final class KnownDevices {
  private final Map<String, String> units = new LinkedHashMap<>();
  private final Map<String, List<String>> unitsOfModel = new LinkedHashMap<>();

  public void add(String unit, String model) {
    units.put(key(unit), unit);
    unitsOfModel.computeIfAbsent(key(model), m -> new ArrayList<>()).add(unit);
  }

  public void addModel(String model) {
    unitsOfModel.computeIfAbsent(key(model), m -> new ArrayList<>());
  }

  public Optional<String> unit(String name) {
    return Optional.ofNullable(units.get(key(name)));
  }

  public boolean isModel(String name) {
    return unitsOfModel.containsKey(key(name));
  }

  /** The units of a model, in order of their naming; none where it is not known. */
  public List<String> unitsOf(String model) {
    return List.copyOf(unitsOfModel.getOrDefault(key(model), List.of()));
  }

  private static String key(String name) {
    return name.strip().toLowerCase(Locale.ROOT);
  }
}
