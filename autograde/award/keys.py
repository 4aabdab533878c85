"""The issuer's Ed25519 keys: made, kept under a passphrase, changed, and given up.

**What lies where.** ``private/<name>.pem`` holds a private key (PKCS#8, encrypted, readable by its owner only);
``issuer.jwks.json`` is the public key file (a JSON Web Key Set with dates) that is given to everybody who verifies.

**Passphrase.** At least 15 characters, better six random words: the file's own key derivation is the library's
default and does not make a short one safe. (A file wrapped again by another tool with more rounds is read as well.)

**Rotation.** `KeyStore.rotate` ends the old key's time and makes a new one. Awards signed before stay valid, since the
public key file keeps every key with its dates. Rotate yearly, and when somebody who knew the passphrase leaves
(`KeyStore.change_passphrase` alone does not help then: a copy of the file still opens with the old one).

**Loss.** A lost passphrase or file cannot be recovered, and nothing signed is lost by it: rotate, publish the new
public key file where people know to find it, sign the status list again with the new key.

**Theft.** Call `KeyStore.report_compromised`: what the key signed from the given time on no longer verifies. A thief
can date a token back, so unless awards are known from elsewhere give the time at which the key was made, publish the
file, and issue the awards of that key again from the record of decisions.

References: rfc_8032, rfc_8037, rfc_7517, rfc_5958, nist_sp_800_63b.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from autograde.award.did_key import key_url
from autograde.award.errors import AwardError
from autograde.award.files import locked, read_limited, write_atomic
from autograde.award.ring import Issuer, KeyRing, PublicKey, read_ring, utc_text

__all__ = ["KeyStore", "SigningKey"]

SHORTEST_PASSPHRASE = 15


@dataclass(frozen=True)
class SigningKey:
    """An opened private key, its id, and whose it is."""

    kid: str
    private: Ed25519PrivateKey
    issuer: Issuer

    def __repr__(self) -> str:
        return f"SigningKey({self.kid!r})"


class KeyStore:
    """The folder with an issuer's keys.

    Parameters
    ----------
    folder : Path
        Private to the issuer.
    clock : callable, optional
        Gives the present time; for tests.
    """

    def __init__(self, folder: Path, clock: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self.folder = folder
        self._clock = clock

    @property
    def public_path(self) -> Path:
        """The public key file."""
        return self.folder / "issuer.jwks.json"

    def ring(self) -> KeyRing:
        """Read the public key file."""
        return read_ring(read_limited(self.public_path, 1_000_000))

    def create(self, passphrase: str, issuer: Issuer) -> str:
        """Make the first key.

        Parameters
        ----------
        passphrase : str
            At least 15 characters.
        issuer : Issuer
            Who signs with it.

        Returns
        -------
        str
            The key's id.

        Raises
        ------
        AwardError
            If there are keys already, or the passphrase is too short.
        """
        with locked(self.public_path):
            if self.public_path.exists():
                raise AwardError(f"{self.public_path} exists; rotate the key instead of making a first one")
            return self._add(KeyRing(issuer, ()), passphrase)

    def rotate(self, passphrase: str) -> str:
        """End the present key's time and make a new key; returns its id. AwardError as `create`."""
        with locked(self.public_path):
            ring, now = self.ring(), utc_text(self._clock())
            ended = tuple(key if key.valid_until else key.ended(now) for key in ring.keys)
            return self._add(KeyRing(ring.issuer, ended), passphrase)

    def report_compromised(self, kid: str, since: datetime, reason: str) -> None:
        """Declare that a key was not surely yours any more from a time on.

        Parameters
        ----------
        kid : str
            Which key.
        since : datetime
            What it signed from here on no longer verifies.
        reason : str
            For those who verify.

        Raises
        ------
        AwardError
            If there is no such key.
        """
        with locked(self.public_path):
            ring = self.ring()
            if ring.find(kid) is None:
                raise AwardError(f"{kid} is none of the keys in {self.public_path}")
            keys = tuple(key.given_up(utc_text(since), reason) if key.kid == kid else key for key in ring.keys)
            write_atomic(self.public_path, KeyRing(ring.issuer, keys).as_json())

    def open(self, passphrase: str) -> SigningKey:
        """Open the present private key.

        Parameters
        ----------
        passphrase : str
            The one it was made with.

        Returns
        -------
        SigningKey
            To sign with.

        Raises
        ------
        AwardError
            If the passphrase does not open it, the file is damaged, readable by others, or no key is in use.
        """
        ring = self.ring()
        usable = [key for key in ring.keys if not key.valid_until and not key.compromised_since]
        if not usable:
            raise AwardError(f"no key in {self.public_path} is in use; rotate to make one")
        if ring.issuer is None:
            raise AwardError(f"{self.public_path} does not say who issues; restore it from a backup")
        key = usable[-1]
        path = self._private_path(key.kid)
        private = _load(path, passphrase)
        if key_url(private.public_key().public_bytes_raw()) != key.kid:
            raise AwardError(f"{path} holds another key than its name says; restore it from a backup, or rotate")
        return SigningKey(key.kid, private, ring.issuer)

    def change_passphrase(self, old: str, new: str) -> None:
        """Wrap the present private key with another passphrase; AwardError as `open` and `create`."""
        with locked(self.public_path):
            key = self.open(old)
            self._write(self._private_path(key.kid), key.private, new)

    def _add(self, ring: KeyRing, passphrase: str) -> str:
        for unfinished in (self.folder / "private").glob(".*.partial"):
            unfinished.unlink(missing_ok=True)  # left by a kill while an earlier key was written
        private = Ed25519PrivateKey.generate()
        key = PublicKey(private.public_key().public_bytes_raw(), valid_from=utc_text(self._clock()))
        self._write(self._private_path(key.kid), private, passphrase)
        write_atomic(self.public_path, KeyRing(ring.issuer, (*ring.keys, key)).as_json())
        return key.kid

    def _write(self, path: Path, private: Ed25519PrivateKey, passphrase: str) -> None:
        if len(passphrase) < SHORTEST_PASSPHRASE:
            raise AwardError(
                f"the passphrase has {len(passphrase)} characters; take at least {SHORTEST_PASSPHRASE}, for example "
                "six random words"
            )
        pem = private.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.BestAvailableEncryption(passphrase.encode()),
        )
        write_atomic(path, pem, mode=0o600)
        path.parent.chmod(0o700)

    def _private_path(self, kid: str) -> Path:
        return self.folder / "private" / f"{kid.split('#')[-1]}.pem"


def _load(path: Path, passphrase: str) -> Ed25519PrivateKey:
    content = read_limited(path, 100_000)
    if path.stat().st_mode & 0o077:
        raise AwardError(f"{path} can be read by others; run: chmod 600 {path}")
    try:
        private = serialization.load_pem_private_key(content, passphrase.encode())
    except TypeError as error:
        raise AwardError(f"{path} is not encrypted; wrap it with a passphrase, or rotate the key") from error
    except (ValueError, UnsupportedAlgorithm) as error:
        raise AwardError(f"the passphrase does not open {path}, or the file is damaged; nothing was signed") from error
    if not isinstance(private, Ed25519PrivateKey):
        raise AwardError(f"{path} holds a key of another kind; only Ed25519 is used here")
    return private
