//! Who may come in: where athletes' pages are served, the coach's pass phrase, and the browsers that are
//! signed in.

use chrono::{DateTime, Utc};
use sha2::{Digest, Sha256};

use crate::{Doors, Result, Store, Version, cell};

impl Store {
    /// Where athletes' pages are served, and whether a pass phrase is set.
    pub async fn doors(&self) -> Result<Doors> {
        let mut db = self.read_connection().await?;
        let row = sqlx::query!("SELECT version, share_address, share_url, pass_phrase FROM doors WHERE id = 1")
            .fetch_one(&mut *db)
            .await?;
        Ok(Doors {
            version: Version(row.version),
            share_address: row.share_address,
            share_url: row.share_url,
            pass_phrase: row.pass_phrase,
        })
    }

    /// Saves where athletes' pages are served, read at a version.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`] if it was saved since.
    pub async fn save_sharing(&self, read_at: Version, address: &str, url: &str, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let now = cell::instant_text(now);
        let saved = sqlx::query!(
            "UPDATE doors SET version = version + 1, share_address = ?, share_url = ?, saved_at = ?
             WHERE id = 1 AND version = ?",
            address,
            url,
            now,
            read_at.0
        )
        .execute(&mut *tx)
        .await?;
        cell::commit_as_read(tx, &saved).await
    }

    /// Sets or removes the pass phrase (its hash as the PHC string format writes it), and signs every
    /// browser out.
    pub async fn set_pass_phrase(&self, hash: Option<&str>, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let now = cell::instant_text(now);
        sqlx::query!("UPDATE doors SET version = version + 1, pass_phrase = ?, saved_at = ? WHERE id = 1", hash, now)
            .execute(&mut *tx)
            .await?;
        sqlx::query!("DELETE FROM sign_in").execute(&mut *tx).await?;
        tx.commit().await?;
        Ok(())
    }

    /// Signs a browser in under a secret of its own until an instant; those that have ended are forgotten.
    pub async fn sign_in(&self, secret: &str, now: DateTime<Utc>, ends: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let (hash, now, ends) = (hash_of(secret), cell::instant_text(now), cell::instant_text(ends));
        sqlx::query!("DELETE FROM sign_in WHERE ends_at <= ?", now).execute(&mut *tx).await?;
        sqlx::query!("INSERT INTO sign_in (token_hash, made_at, ends_at) VALUES (?, ?, ?)", hash, now, ends)
            .execute(&mut *tx)
            .await?;
        tx.commit().await?;
        Ok(())
    }

    /// Signs the browser with this secret out.
    pub async fn sign_out(&self, secret: &str) -> Result<()> {
        let mut tx = self.writing().await?;
        let hash = hash_of(secret);
        sqlx::query!("DELETE FROM sign_in WHERE token_hash = ?", hash).execute(&mut *tx).await?;
        tx.commit().await?;
        Ok(())
    }

    /// Whether a browser with this secret is signed in.
    pub async fn is_signed_in(&self, secret: &str, now: DateTime<Utc>) -> Result<bool> {
        let mut db = self.read_connection().await?;
        let (hash, now) = (hash_of(secret), cell::instant_text(now));
        let found = sqlx::query_scalar!(
            r#"SELECT count(*) AS "count!: i64" FROM sign_in WHERE token_hash = ? AND ends_at > ?"#,
            hash,
            now
        )
        .fetch_one(&mut *db)
        .await?;
        Ok(found > 0)
    }
}

/// What a secret is looked up by.
fn hash_of(secret: &str) -> Vec<u8> {
    Sha256::digest(secret.as_bytes()).to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::StoreError;
    use crate::testing::{at, open};

    #[tokio::test]
    async fn a_fresh_file_serves_nothing_and_asks_for_nothing() {
        let doors = open().await.doors().await.unwrap();
        let nothing = String::new;
        let expected = Doors { version: Version(1), share_address: nothing(), share_url: nothing(), pass_phrase: None };
        assert_eq!(doors, expected);
    }

    #[tokio::test]
    async fn sharing_comes_back_as_saved_and_a_stale_save_is_refused() {
        let store = open().await;
        store.save_sharing(Version(1), "0.0.0.0:4651", "https://runs.example", at(1)).await.unwrap();
        let doors = store.doors().await.unwrap();
        assert_eq!((doors.share_address.as_str(), doors.share_url.as_str()), ("0.0.0.0:4651", "https://runs.example"));
        let stale = store.save_sharing(Version(1), "", "", at(2)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
    }

    #[tokio::test]
    async fn a_browser_is_signed_in_until_it_ends_signs_out_or_the_phrase_changes() {
        let store = open().await;
        let signed_in = async |secret: &str, minute| store.is_signed_in(secret, at(minute)).await.unwrap();
        assert!(!signed_in("one", 1).await);
        store.sign_in("one", at(1), at(5)).await.unwrap();
        store.sign_in("two", at(2), at(9)).await.unwrap();
        assert!(signed_in("one", 4).await && !signed_in("one", 5).await && signed_in("two", 5).await);
        store.sign_out("two").await.unwrap();
        assert!(!signed_in("two", 5).await);
        store.sign_in("three", at(6), at(9)).await.unwrap();
        store.set_pass_phrase(Some("hash"), at(7)).await.unwrap();
        assert!(!signed_in("three", 7).await);
        assert_eq!(store.doors().await.unwrap().pass_phrase.as_deref(), Some("hash"));
        store.set_pass_phrase(None, at(8)).await.unwrap();
        assert_eq!(store.doors().await.unwrap().pass_phrase, None);
    }
}
