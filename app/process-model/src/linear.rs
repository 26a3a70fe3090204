//! Symmetric linear systems of a few unknowns, by Cholesky.

/// The lower triangle of a symmetric positive-definite matrix, row by row.
#[derive(Clone, Debug)]
pub struct Lower {
    n: usize,
    rows: Vec<f64>,
}

impl Lower {
    /// Decomposes the `n` × `n` matrix `a`, given row by row; nothing if it is not positive definite.
    pub fn of(a: &[f64], n: usize) -> Option<Self> {
        let mut lower = Self { n, rows: vec![0.0; n * n] };
        for row in 0..n {
            for column in 0..=row {
                let known: f64 = (0..column).map(|k| lower.at(row, k) * lower.at(column, k)).sum();
                let rest = a.get(row * n + column)? - known;
                let value = if row == column {
                    // Not-a-number is no more positive than a negative one.
                    if rest.is_nan() || rest <= 0.0 {
                        return None;
                    }
                    rest.sqrt()
                } else {
                    rest / lower.at(column, column)
                };
                lower.rows[row * n + column] = value;
            }
        }
        Some(lower)
    }

    /// The entry of a row and a column.
    pub fn at(&self, row: usize, column: usize) -> f64 {
        self.rows[row * self.n + column]
    }

    /// What the matrix turns into `b`.
    pub fn solve(&self, b: &[f64]) -> Vec<f64> {
        let n = self.n;
        let mut x = b.to_vec();
        for row in 0..n {
            let known: f64 = (0..row).map(|k| self.at(row, k) * x[k]).sum();
            x[row] = (x[row] - known) / self.at(row, row);
        }
        for row in (0..n).rev() {
            let known: f64 = (row + 1..n).map(|k| self.at(k, row) * x[k]).sum();
            x[row] = (x[row] - known) / self.at(row, row);
        }
        x
    }

    /// The inverse of the matrix, row by row.
    pub fn inverse(&self) -> Vec<f64> {
        let n = self.n;
        let mut inverse = vec![0.0; n * n];
        for column in 0..n {
            let mut unit = vec![0.0; n];
            unit[column] = 1.0;
            for (row, value) in self.solve(&unit).into_iter().enumerate() {
                inverse[row * n + column] = value;
            }
        }
        inverse
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_system_is_solved() {
        let a = [4.0, 2.0, 2.0, 3.0];
        let x = Lower::of(&a, 2).unwrap().solve(&[8.0, 7.0]);
        assert!((x[0] - 1.25).abs() < 1e-12 && (x[1] - 1.5).abs() < 1e-12, "{x:?}");
        let inverse = Lower::of(&a, 2).unwrap().inverse();
        assert!((inverse[0] - 0.375).abs() < 1e-12 && (inverse[1] + 0.25).abs() < 1e-12);
    }

    #[test]
    fn a_matrix_that_is_not_positive_definite_is_refused() {
        assert!(Lower::of(&[1.0, 2.0, 2.0, 1.0], 2).is_none());
        assert!(Lower::of(&[f64::NAN], 1).is_none());
    }
}
