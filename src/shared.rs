//! Work shared between two threads, in a scope that ends with the function.

use std::sync::atomic::{AtomicUsize, Ordering};

/// Makes something for each number below `count`, in order; two threads each take the next number that nobody has taken.
///
/// What is made depends on its number alone, so the result is the same however the work falls.
pub(crate) fn in_order<T: Send>(count: usize, make: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let take = || {
        let numbers =
            std::iter::from_fn(|| Some(next.fetch_add(1, Ordering::Relaxed)).filter(|number| *number < count));
        numbers.map(|number| (number, make(number))).collect::<Vec<_>>()
    };
    let (mut made, others) = both(take, take);
    made.extend(others);
    made.sort_unstable_by_key(|(number, _)| *number);
    made.into_iter().map(|(_, made)| made).collect()
}

/// Does two things at once: the second on a thread of its own, whose panic becomes the caller's.
pub(crate) fn both<A, B: Send>(one: impl FnOnce() -> A, other: impl FnOnce() -> B + Send) -> (A, B) {
    std::thread::scope(|scope| {
        let other = scope.spawn(other);
        let one = one();
        (one, other.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_number_is_made_once_and_stands_in_its_place() {
        for count in [0, 1, 2, 7, 100] {
            assert_eq!(in_order(count, |number| number * number), (0..count).map(|n| n * n).collect::<Vec<_>>());
        }
    }
}
