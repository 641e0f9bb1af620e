package milewarden.cli;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;

/**
 * What stands after a command's name on a line of the usual form: options that are known here, at
 * most once each, their values as words of their own, and operands. Reading it by itself spares a
 * start the library's model of the commands, which takes as long as measuring an hour. Whatever is
 * doubtful in the least is no plain line: the library reads it, and says what is wrong with it.
 *
 * @param values of the options that take one
 * @param flags the options without a value that stand there
 * @param operands the other words, in order
 */
public record PlainLine(Map<String, String> values, Set<String> flags, List<String> operands) {
  public PlainLine {
    values = Map.copyOf(values);
    flags = Set.copyOf(flags);
    operands = List.copyOf(operands);
  }

  /**
   * The job of a plain line.
   *
   * @param line the words, the command's name first
   * @param valued options that take a value
   * @param flags options that take none
   * @param job empty where the values are not those of a plain line after all
   */
  public static Optional<Job> job(
      List<String> line,
      Set<String> valued,
      Set<String> flags,
      Function<PlainLine, Optional<Job>> job) {
    try {
      return of(line, valued, flags).flatMap(job);
    } catch (InvalidPathException e) {
      return Optional.empty();
    }
  }

  static Optional<PlainLine> of(List<String> line, Set<String> valued, Set<String> flags) {
    Map<String, String> values = new HashMap<>();
    Set<String> given = new HashSet<>();
    List<String> operands = new ArrayList<>();
    for (int i = 1; i < line.size(); i++) {
      String word = line.get(i);
      if (valued.contains(word)) {
        if (i + 1 == line.size() || !isPlain(line.get(i + 1))) return Optional.empty();
        if (values.put(word, line.get(++i)) != null) return Optional.empty();
      } else if (flags.contains(word)) {
        if (!given.add(word)) return Optional.empty();
      } else if (isPlain(word)) {
        operands.add(word);
      } else {
        return Optional.empty();
      }
    }
    return Optional.of(new PlainLine(values, given, operands));
  }

  // To the library @ begins the name of a file of words, and quotes may mean something.
  private static boolean isPlain(String word) {
    return !word.isEmpty() && "-@\"'".indexOf(word.charAt(0)) < 0;
  }

  public Optional<String> value(String option) {
    return Optional.ofNullable(values.get(option));
  }

  /**
   * A value that names a file.
   *
   * @throws InvalidPathException where this machine has no such names
   */
  public Optional<Path> path(String option) {
    return value(option).map(Path::of);
  }
}
