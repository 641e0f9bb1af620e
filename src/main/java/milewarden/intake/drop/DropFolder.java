package milewarden.intake.drop;

import java.io.IOException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What lies in a folder and its sub-folders. Links are never followed. */
public final class DropFolder {
  private final Path root;

  public DropFolder(Path root) {
    this.root = root;
  }

  /**
   * A file as it was seen.
   *
   * @param path from the folder on, with slashes, safe to keep and to show
   */
  public record Seen(Path file, String path, long sizeBytes, long changedMs) {}

  /** Everything seen at one moment: files in order of their paths, and what is none. */
  public record Look(List<Seen> files, List<Trouble> troubles) {
    public Look {
      files = List.copyOf(files);
      troubles = List.copyOf(troubles);
    }
  }

  public Path root() {
    return root;
  }

  /** Looks through the folder, which is made where it is missing. */
  public Look look() throws IOException {
    Files.createDirectories(root);
    List<Seen> files = new ArrayList<>();
    List<Trouble> troubles = new ArrayList<>();
    Files.walkFileTree(root, new Visitor(files, troubles));
    files.sort(java.util.Comparator.comparing(Seen::path));
    return new Look(files, troubles);
  }

  String pathOf(Path file) {
    Path relative = root.relativize(file);
    List<String> parts = new ArrayList<>();
    for (Path part : relative) parts.add(DroppedName.shown(part.toString()));
    return String.join("/", parts);
  }

  private final class Visitor extends SimpleFileVisitor<Path> {
    private final List<Seen> files;
    private final List<Trouble> troubles;

    Visitor(List<Seen> files, List<Trouble> troubles) {
      this.files = files;
      this.troubles = troubles;
    }

    @Override
    public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) {
      String path = pathOf(file);
      if (attributes.isSymbolicLink()) troubles.add(new Trouble(path, DropWords.link(path)));
      else if (!attributes.isRegularFile())
        troubles.add(new Trouble(path, DropWords.special(path)));
      else
        files.add(
            new Seen(file, path, attributes.size(), attributes.lastModifiedTime().toMillis()));
      return FileVisitResult.CONTINUE;
    }

    @Override
    public FileVisitResult visitFileFailed(Path file, IOException why) {
      // Gone since its folder was listed: somebody thought better of it.
      if (!(why instanceof NoSuchFileException)) {
        String path = pathOf(file);
        troubles.add(new Trouble(path, DropWords.unreadable(path, why.toString())));
      }
      return FileVisitResult.CONTINUE;
    }

    @Override
    public FileVisitResult postVisitDirectory(Path folder, @Nullable IOException why) {
      return FileVisitResult.CONTINUE;
    }
  }
}
