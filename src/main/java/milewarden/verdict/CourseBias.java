package milewarden.verdict;

/**
 * What one control unit tells of a course's length: by how much it reads other there than on all
 * its courses of the same kind of site. Positive where it over-reads: the course may be shorter
 * than stated.
 *
 * @param control the unit
 * @param sessions on this course
 * @param courses how many courses the control was carried over
 * @param biasPercent of the course against those that agree, each weighed by what is known of it
 * @param expandedUncertaintyPercent U of the bias; one course in 20 lies beyond it by chance,
 *     however many there are
 * @param statedStandardUncertaintyPercent u_ref of the course as measured
 */
public record CourseBias(
    String control,
    String course,
    String courseVersion,
    int sessions,
    int courses,
    double biasPercent,
    double expandedUncertaintyPercent,
    double statedStandardUncertaintyPercent) {
  /** False where the course reads other than its stated uncertainty and the sessions allow. */
  public boolean consistent() {
    return Math.abs(biasPercent) <= expandedUncertaintyPercent;
  }
}
