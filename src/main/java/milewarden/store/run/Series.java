package milewarden.store.run;

import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Arrays;
import java.util.List;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.InflaterInputStream;

/**
 * Series of numbers as few bytes: each value counted in steps, the difference to the one before it
 * as a variable-length integer, all deflated. What is lost is below half a step.
 */
final class Series {
  /** Lengths along and beside the course, metres: finer than any chart can show. */
  static final double LENGTH_STEP = 0.01;

  /** Excess lengths are averaged over many passes, so they are kept finer; metres. */
  static final double EXCESS_STEP = 0.0001;

  static final double SPEED_STEP = 0.01;

  /** Degrees; 1e-7 of a degree is 11 mm of latitude. */
  static final double DEGREE_STEP = 1e-7;

  private Series() {}

  /** Writes series one behind the other. */
  static final class Writer {
    private static final int LONGEST_VARINT = 10;

    // Deflated at the end: the deflater takes each write for itself, however small.
    private byte[] out = new byte[1 << 13];
    private int size;

    /** A value that is not a number stays one. */
    Writer add(List<Double> values, double step) {
      varint(values.size());
      long before = 0;
      for (double value : values) {
        if (Double.isNaN(value)) {
          varint(0);
          continue;
        }
        long steps = Math.round(value / step);
        long delta = steps - before;
        varint(((delta << 1) ^ (delta >> 63)) + 1);
        before = steps;
      }
      return this;
    }

    byte[] bytes() {
      ByteArrayOutputStream bytes = new ByteArrayOutputStream(1 << 13);
      Deflater deflater = new Deflater(Deflater.BEST_SPEED);
      try (DeflaterOutputStream packed = new DeflaterOutputStream(bytes, deflater, 1 << 13)) {
        packed.write(out, 0, size);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      } finally {
        deflater.end();
      }
      return bytes.toByteArray();
    }

    private void varint(long value) {
      if (out.length - size < LONGEST_VARINT) out = Arrays.copyOf(out, 2 * out.length);
      long rest = value;
      while ((rest & ~0x7fL) != 0) {
        out[size++] = (byte) ((rest & 0x7f) | 0x80);
        rest >>>= 7;
      }
      out[size++] = (byte) rest;
    }
  }

  /** Reads the series in the order in which they were written. */
  static final class Reader {
    private final InputStream in;

    Reader(byte[] bytes) {
      this.in = new BufferedInputStream(new InflaterInputStream(new ByteArrayInputStream(bytes)));
    }

    double[] next(double step) {
      try {
        double[] values = new double[Math.toIntExact(varint())];
        long before = 0;
        for (int i = 0; i < values.length; i++) {
          long code = varint();
          if (code == 0) {
            values[i] = Double.NaN;
            continue;
          }
          long zigzag = code - 1;
          before += (zigzag >>> 1) ^ -(zigzag & 1);
          values[i] = before * step;
        }
        return values;
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }

    private long varint() throws IOException {
      long value = 0;
      for (int shift = 0; ; shift += 7) {
        int b = in.read();
        if (b < 0) throw new IOException("stored series ends early");
        value |= (long) (b & 0x7f) << shift;
        if (b < 0x80) return value;
      }
    }
  }
}
