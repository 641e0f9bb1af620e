package milewarden.format.fixes;

/**
 * What a track file may cost before it is refused.
 *
 * @param bytes of the file
 * @param depth of nested elements
 * @param fixes begun in the file
 */
public record ReadLimits(long bytes, int depth, int fixes) {
  /**
   * Our own choice: a day at 10 fixes a second is 864,000 fixes and at 600 bytes a fix 520 MB; a
   * track file nests seven deep and its extensions a few more. So many fixes, with every value that
   * a fix can have, are read in 96 MiB of memory.
   */
  public static final ReadLimits DEFAULT = new ReadLimits(1L << 30, 64, 1_000_000);

  public ReadLimits {
    if (bytes <= 0 || depth <= 0 || fixes <= 0) throw new IllegalArgumentException("limits: 0");
  }
}
