//! CSV: RFC 4180, and the injection examples of OWASP.

use casewright::base::{Length, Printing, Solid};
use casewright::catalog;
use casewright::model::{Model, Part, Shop};
use casewright::papers::{self, Subject};
use casewright::plan;

/// The cut list of one part of a name.
fn cut_list(name: &str) -> String {
    let mut model = Model::new("job", Printing::default());
    let size = [Length::from_inch(30, 1), Length::from_inch(11, 1), Length::from_inch(3, 4)];
    let stock = catalog::stock("3/4 MDF").unwrap();
    model.add_part(Part::new(name, Model::ROOT, stock, Solid::new([Length::ZERO; 3], size)));
    let plan = plan::plan(&model, &Shop::default());
    let paper = papers::ALL.iter().find(|paper| paper.file == "cut-list.csv").unwrap();
    String::from_utf8((paper.write)(Subject { model: &model, plan: &plan, findings: &[] })).unwrap()
}

/// The field of the part's name as it stands in the file.
fn field(name: &str) -> String {
    let text = cut_list(name);
    let (_, after) = text.split_once("\r\nA1,").unwrap();
    let (field, _) = after.split_once(",1,3/4 MDF,").unwrap();
    field.to_owned()
}

/// SEEN: OWASP/www-community, `pages/attacks/CSV_Injection.md`: both examples, input and output, as they are printed there.
#[test]
fn owasp_examples() {
    assert_eq!(field(r#"=1+2";=1+2"#), r#""'=1+2"";=1+2""#);
    assert_eq!(field(r#"=1+2'" ;,=1+2"#), r#""'=1+2'"" ;,=1+2""#);
}

/// SEEN: the same page lists = + - @ tab CR LF; OWASP ASVS 5, 1.2.10 lists = + - @ tab NUL. The union holds here.
#[test]
fn owasp_first_characters() {
    for first in ['=', '+', '-', '@', '\t', '\r', '\n', '\0'] {
        let name = format!("{first}A");
        let read = field(&name);
        let inner = read.strip_prefix('"').unwrap_or(&read);
        assert!(inner.starts_with(&format!("'{name}")), "{name:?}: {read:?}");
    }
}

/// RFC 4180, section 2. SEEN in `miller_5.6.2`, `c/csv-rfc.txt`, and rfcinfo.com.
mod rfc_4180 {
    use super::*;

    /// 2.1 and 2.2: records end in CRLF, the last one too.
    #[test]
    fn records_end_in_crlf() {
        let text = cut_list("side");
        assert!(text.ends_with("\r\n"));
        assert_eq!(text.matches("\r\n").count(), 2);
        assert_eq!(text.matches('\n').count(), 2);
        assert_eq!(text.matches('\r').count(), 2);
    }

    /// 2.3: a header with as many fields as the records. 2.4: spaces are part of a field, and no comma follows the last.
    #[test]
    fn header_and_fields() {
        let text = cut_list("a  b");
        let mut lines = text.split("\r\n");
        let header = lines.next().unwrap();
        assert!(!header.ends_with(','));
        let record =
            csv::ReaderBuilder::new().flexible(false).from_reader(text.as_bytes()).records().next().unwrap().unwrap();
        assert_eq!(record.len(), header.split(',').count());
        assert_eq!(field("a  b"), "a  b");
        assert_eq!(field(" a "), " a ");
    }

    /// 2.5 to 2.7: a field with a comma, a line break or a quote stands in quotes, and a quote inside is doubled.
    #[test]
    fn quoting() {
        assert_eq!(field("plain"), "plain");
        assert_eq!(field("a,b"), "\"a,b\"");
        assert_eq!(field("a\r\nb"), "\"a\r\nb\"");
        assert_eq!(field("a\nb"), "\"a\nb\"");
        assert_eq!(field("a\"b"), "\"a\"\"b\"");
    }

    /// Erratum 5714 (SEEN: rfc-editor.org/errata/eid5714): nothing stands between a closing quote and the end of the record.
    #[test]
    fn no_space_after_a_closing_quote() {
        assert!(!cut_list("a\"b").contains("\" \r\n"));
        assert!(!cut_list("a\"b").contains("\" ,"));
    }
}
