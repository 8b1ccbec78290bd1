//! Next.
