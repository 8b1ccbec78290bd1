-- Who may come in: where athletes' pages are served, and the coach's pass phrase.

CREATE TABLE doors (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    version INTEGER NOT NULL CHECK (version >= 1),
    -- Where athletes' pages are served, address and port; empty: nowhere.
    share_address TEXT NOT NULL CHECK (length(share_address) <= 100),
    -- What links to them begin with where it is not that address; empty: the address.
    share_url TEXT NOT NULL CHECK (length(share_url) <= 300),
    -- The salted hash of the pass phrase as the PHC string format writes it; nothing: none is set.
    pass_phrase TEXT CHECK (length(pass_phrase) BETWEEN 1 AND 500),
    saved_at TEXT
) STRICT;

INSERT INTO doors (id, version, share_address, share_url) VALUES (1, 1, '', '');

-- Browsers that are signed in. The file holds a hash only: whoever reads it cannot sign in with it.
CREATE TABLE sign_in (
    token_hash BLOB PRIMARY KEY CHECK (length(token_hash) = 32),
    made_at TEXT NOT NULL,
    ends_at TEXT NOT NULL
) STRICT, WITHOUT ROWID;

PRAGMA user_version = 6;
