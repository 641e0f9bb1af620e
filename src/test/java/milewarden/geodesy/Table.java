package milewarden.geodesy;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Reads the published tables of the tests: a header row, no quotes. */
public final class Table {
  private Table() {}

  public static List<Map<String, String>> read(String resource) throws IOException {
    try (InputStream in = Table.class.getResourceAsStream(resource)) {
      List<String> lines =
          new String(in.readAllBytes(), StandardCharsets.UTF_8)
              .lines()
              .filter(l -> !l.isBlank())
              .toList();
      String[] names = lines.get(0).split(",", -1);
      List<Map<String, String>> rows = new ArrayList<>();
      for (String line : lines.subList(1, lines.size())) {
        String[] cells = line.split(",", -1);
        Map<String, String> row = new LinkedHashMap<>();
        for (int i = 0; i < names.length; i++) row.put(names[i], cells[i]);
        rows.add(row);
      }
      return rows;
    }
  }

  public static double number(Map<String, String> row, String name) {
    return Double.parseDouble(row.get(name));
  }
}
