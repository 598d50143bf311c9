//! Reading a key set (RFC 7517). What can't be used is passed over: a set may hold keys for other
//! purposes and of algorithms to come.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use jsonwebtoken::jwk::{
    AlgorithmParameters, EllipticCurve, Jwk, KeyAlgorithm, KeyOperations, PublicKeyUse,
};
use jsonwebtoken::{Algorithm, DecodingKey};
use serde::Deserialize;
use serde_json::Value;

/// Most keys of a set that are looked at.
const MOST: usize = 100;
/// Bytes of an RSA modulus: fewer are too weak (RFC 7518, section 3.3), more only cost time.
const MODULUS: std::ops::RangeInclusive<usize> = 256..=512;

/// A key that checks tokens, with its one algorithm.
#[derive(Debug, Clone)]
pub(super) struct OutsideKey {
    pub(super) kid: String,
    pub(super) algorithm: Algorithm,
    pub(super) checking: DecodingKey,
}

#[derive(Deserialize)]
struct Set {
    keys: Vec<Value>,
}

/// The keys of a set that can be used.
pub(super) fn read(text: &[u8]) -> Result<Vec<OutsideKey>, serde_json::Error> {
    let Set { keys } = serde_json::from_slice(text)?;
    Ok(keys.into_iter().take(MOST).filter_map(usable).collect())
}

fn usable(value: Value) -> Option<OutsideKey> {
    let jwk: Jwk = serde_json::from_value(value).ok()?;
    let kid = jwk.common.key_id.clone()?;
    let algorithm = algorithm_of(&jwk).filter(|_| is_for_signatures(&jwk))?;
    let checking = DecodingKey::from_jwk(&jwk).ok()?;
    Some(OutsideKey { kid, algorithm, checking })
}

/// The one algorithm of a key: that of its kind, and if it names one, the same.
fn algorithm_of(jwk: &Jwk) -> Option<Algorithm> {
    let (algorithm, name) = match &jwk.algorithm {
        AlgorithmParameters::RSA(key) => {
            let modulus = URL_SAFE_NO_PAD.decode(&key.n).ok()?;
            MODULUS.contains(&modulus.len()).then_some((Algorithm::RS256, KeyAlgorithm::RS256))?
        }
        AlgorithmParameters::EllipticCurve(key) if key.curve == EllipticCurve::P256 => {
            (Algorithm::ES256, KeyAlgorithm::ES256)
        }
        AlgorithmParameters::OctetKeyPair(key) if key.curve == EllipticCurve::Ed25519 => {
            (Algorithm::EdDSA, KeyAlgorithm::EdDSA)
        }
        _ => return None,
    };
    jwk.common.key_algorithm.is_none_or(|named| named == name).then_some(algorithm)
}

fn is_for_signatures(jwk: &Jwk) -> bool {
    let purpose = jwk.common.public_key_use.as_ref();
    let operations = jwk.common.key_operations.as_ref();
    purpose.is_none_or(|purpose| *purpose == PublicKeyUse::Signature)
        && operations.is_none_or(|operations| operations.contains(&KeyOperations::Verify))
}

#[cfg(test)]
mod tests {
    use super::{OutsideKey, read};
    use jsonwebtoken::Algorithm;
    use serde_json::{Value, json};

    const RSA: &str = "ofgWCuLjybRlzo0tZWJjNiuSfb4p4fAkd_wWJcyQoTbji9k0l8W26mPddxHmfHQp-Vaw-4qPCJrcS2mJPMEzP1Pt0Bm4d4QlL-yRT-SFd2lZS-pCgNMsD1W_YpRPEwOWvG6b32690r2jZ47soMZo9wGzjb_7OMg0LOL-bSf63kpaSHSXndS5z5rexMdbBYUsLA9e-KXBdQOS-UTo7WTBEMa2R2CapHg665xsmtdVMTBQY4uDZlxvb3qCo5ZwKh9kG4LT6_I5IhlJH7aGhyxXFvUK-DWNmoudF8NAco9_h9iaGNj8q2ethFkMLs91kzk2PAcDTW9gb54h4FRWyuXpoQ";

    fn rsa() -> Value {
        json!({"kty": "RSA", "kid": "r", "n": RSA, "e": "AQAB"})
    }

    fn p256() -> Value {
        json!({
            "kty": "EC", "kid": "e", "crv": "P-256",
            "x": "f83OJ3D2xF1Bg8vub9tLe1gHMzV76e8Tus9uPHvRVEU",
            "y": "x_FEzRu9m36HLN_tue659LNpXW6pCyStikYjKIWI5a0"
        })
    }

    fn ed25519() -> Value {
        json!({
            "kty": "OKP", "kid": "o", "crv": "Ed25519",
            "x": "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo"
        })
    }

    fn keys(list: &[Value]) -> Vec<OutsideKey> {
        read(json!({"keys": list}).to_string().as_bytes()).expect("a set")
    }

    fn with(mut key: Value, member: &str, value: Value) -> Value {
        key[member] = value;
        key
    }

    fn checks(key: &OutsideKey, message: &str, signature: &str) -> bool {
        jsonwebtoken::crypto::verify(signature, message.as_bytes(), &key.checking, key.algorithm)
            .unwrap_or(false)
    }

    /// The signatures of RFC 7515, appendices A.2 and A.3, and of RFC 8037, appendix A.4.
    #[test]
    fn the_examples_of_the_standards_are_checked_by_their_keys_and_no_others() {
        let keys = keys(&[rsa(), p256(), ed25519()]);
        let claims = "eyJpc3MiOiJqb2UiLA0KICJleHAiOjEzMDA4MTkzODAsDQogImh0dHA6Ly9leGFtcGxlLmNvbS9pc19yb290Ijp0cnVlfQ";
        let examples = [
            (
                format!("eyJhbGciOiJSUzI1NiJ9.{claims}"),
                "cC4hiUPoj9Eetdgtv3hF80EGrhuB__dzERat0XF9g2VtQgr9PJbu3XOiZj5RZmh7AAuHIm4Bh-0Qc_lF5YKt_O8W2Fp5jujGbds9uJdbF9CUAr7t1dnZcAcQjbKBYNX4BAynRFdiuB--f_nZLgrnbyTyWzO75vRK5h6xBArLIARNPvkSjtQBMHlb1L07Qe7K0GarZRmB_eSN9383LcOLn6_dO--xi12jzDwusC-eOkHWEsqtFZESc6BfI7noOPqvhJ1phCnvWh6IeYI2w9QOYEUipUTI8np6LbgGY9Fs98rqVt5AXLIhWkWywlVmtVrBp0igcN_IoypGlUPQGe77Rw",
            ),
            (
                format!("eyJhbGciOiJFUzI1NiJ9.{claims}"),
                "DtEhU3ljbEg8L38VWAfUAqOyKAM6-Xx-F4GawxaepmXFCgfTjDxw5djxLa8ISlSApmWQxfKTUJqPP3-Kg6NU1Q",
            ),
            (
                "eyJhbGciOiJFZERTQSJ9.RXhhbXBsZSBvZiBFZDI1NTE5IHNpZ25pbmc".to_owned(),
                "hgyY0il_MGCjP0JzlnLWG1PPOt7-09PGcvMg3AIbQR6dWbhijcNR4ki4iylGjg5BhVsPt9g7sVvpAr_MuM0KAg",
            ),
        ];
        for (at, (message, signature)) in examples.iter().enumerate() {
            for (of, key) in keys.iter().enumerate() {
                assert_eq!(checks(key, message, signature), at == of, "{at} by {of}");
            }
            assert!(!checks(&keys[at], &format!("{message}x"), signature), "{at}");
        }
    }

    #[test]
    fn a_key_has_the_algorithm_of_its_kind() {
        let algorithms: Vec<Algorithm> =
            keys(&[rsa(), p256(), ed25519()]).iter().map(|key| key.algorithm).collect();
        assert_eq!(algorithms, [Algorithm::RS256, Algorithm::ES256, Algorithm::EdDSA]);
    }

    #[test]
    fn what_is_weak_nameless_for_another_purpose_or_secret_is_passed_over() {
        let short = "wA7xVc6yZb0".to_owned();
        for key in [
            with(rsa(), "n", json!(short)),
            with(rsa(), "alg", json!("PS256")),
            with(rsa(), "alg", json!("RS512")),
            with(rsa(), "use", json!("enc")),
            with(rsa(), "key_ops", json!(["encrypt"])),
            with(rsa(), "kid", json!(null)),
            with(p256(), "crv", json!("P-384")),
            with(p256(), "alg", json!("ES384")),
            with(ed25519(), "crv", json!("X25519")),
            with(ed25519(), "alg", json!("HS256")),
            json!({"kty": "oct", "kid": "s", "k": "AyM1SysPpbyDfgZld3umj1qzKObwVMkoqQ"}),
            json!({"kty": "new", "kid": "n"}),
            json!("no key"),
        ] {
            assert!(keys(std::slice::from_ref(&key)).is_empty(), "{key}");
        }
        let good = with(with(rsa(), "alg", json!("RS256")), "use", json!("sig"));
        assert_eq!(keys(&[json!(7), good]).len(), 1, "the others are still read");
        for bad in ["", "[]", "{}", r#"{"keys": {}}"#] {
            assert!(read(bad.as_bytes()).is_err(), "{bad}");
        }
    }
}
