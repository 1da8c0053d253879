//! The pass after painting: what printpdf does not write, so that the file is one to archive. It aims
//! at PDF/A-3b with a structure tree and the data attached, and makes the bytes depend on nothing but
//! the input.

use chrono::{DateTime, FixedOffset};
use flate2::{Compress, Compression, FlushCompress, Status};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary, text_string};
use printpdf::{PdfDocument, PdfSaveOptions};
use sha2::{Digest, Sha256};

use crate::{PaperError, sheet::Sheet};

/// An sRGB profile; see `colour/README.md`.
const SRGB: &[u8] = include_bytes!("../colour/srgb.icc");

/// How hard streams are compressed, from 0 to 9.
const LEVEL: u32 = 6;

/// What a file says of itself.
pub(crate) struct About<'a> {
    pub(crate) title: &'a str,
    pub(crate) subject: &'a str,
    /// The moment it speaks of; stands for the time of writing, which would make every file another.
    pub(crate) when: DateTime<FixedOffset>,
    /// Name and version of the program.
    pub(crate) program: &'a str,
    /// The layout that drew it, so that a later program knows whether it can draw it again.
    pub(crate) layout: &'a str,
    pub(crate) attachments: Vec<Attachment<'a>>,
}

pub(crate) struct Attachment<'a> {
    pub(crate) name: &'a str,
    pub(crate) said: &'a str,
    /// Its media type.
    pub(crate) kind: &'a str,
    /// How it belongs to the page (ISO 32000-2, 7.11.3): `Source`, or `Supplement`.
    pub(crate) belongs: &'a str,
    pub(crate) bytes: &'a [u8],
}

/// The document as it is to be written, or signed.
pub(crate) fn finish(
    painted: &PdfDocument,
    sheet: &Sheet,
    about: &About<'_>,
) -> Result<Document, PaperError> {
    // Its own word for what it does not know is `secure`; the operators that we write ourselves are such.
    let options = PdfSaveOptions { secure: false, ..PdfSaveOptions::default() };
    let mut document = painted.to_lopdf_document(&options, &mut Vec::new());
    take_out_glyphs(&mut document)?;
    let pages: Vec<ObjectId> = document.page_iter().collect();
    tidy_pages(&mut document, &pages)?;
    let tree = structure(&mut document, sheet, &pages);
    let metadata =
        Stream::new(dictionary! { "Type" => "Metadata", "Subtype" => "XML" }, metadata(about).into_bytes());
    let metadata = document.add_object(metadata.with_compression(false));
    let profile = document.add_object(Stream::new(dictionary! { "N" => 3 }, SRGB.to_vec()));
    let files: Vec<ObjectId> =
        about.attachments.iter().map(|attachment| attach(&mut document, attachment, about.when)).collect();
    let catalog = document.catalog_mut()?;
    for key in [b"PageLayout".as_slice(), b"PageMode"] {
        catalog.remove(key);
    }
    catalog.set("Lang", Object::string_literal("en"));
    catalog.set("MarkInfo", dictionary! { "Marked" => true });
    catalog.set("StructTreeRoot", tree);
    catalog.set("ViewerPreferences", dictionary! { "DisplayDocTitle" => true });
    catalog.set("Metadata", metadata);
    catalog.set(
        "OutputIntents",
        vec![Object::Dictionary(dictionary! {
            "Type" => "OutputIntent",
            "S" => "GTS_PDFA1",
            "OutputConditionIdentifier" => Object::string_literal("sRGB"),
            "Info" => Object::string_literal("sRGB IEC61966-2.1"),
            "DestOutputProfile" => profile,
        })],
    );
    if !files.is_empty() {
        // A name tree is sorted by its names (ISO 32000-1, 7.9.6).
        let mut named: Vec<_> = about.attachments.iter().map(|one| one.name).zip(&files).collect();
        named.sort_unstable();
        let names = named.into_iter().flat_map(|(name, file)| [text_string(name), (*file).into()]);
        let names = names.collect::<Vec<_>>();
        catalog.set("Names", dictionary! { "EmbeddedFiles" => dictionary! { "Names" => names } });
        catalog.set("AF", files.into_iter().map(Object::from).collect::<Vec<_>>());
    }
    let info = document.add_object(information(about));
    document.trailer.set("Info", info);
    let id = Object::String(name_file(&document, about), StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![id.clone(), id]);
    "1.7".clone_into(&mut document.version);
    document.prune_objects();
    document.renumber_objects();
    compress(&mut document);
    Ok(document)
}

/// The bytes of its file.
pub(crate) fn written(mut document: Document) -> Result<Vec<u8>, PaperError> {
    let mut bytes = Vec::new();
    document.save_to(&mut bytes)?;
    Ok(bytes)
}

/// At the middle level: the highest, which lopdf takes, costs three times as long for one part in a hundred. One
/// compressor serves all streams, since it is a quarter of a megabyte.
fn compress(document: &mut Document) {
    let mut compressor = Compress::new(Compression::new(LEVEL), true);
    for object in document.objects.values_mut() {
        let Object::Stream(stream) = object else { continue };
        if !stream.allows_compression || stream.dict.has(b"Filter") {
            continue;
        }
        compressor.reset();
        // Of deflate's own bound what matters: a stream that grows is left as it is.
        let mut compressed = Vec::with_capacity(stream.content.len());
        let ended = compressor.compress_vec(&stream.content, &mut compressed, FlushCompress::Finish);
        if matches!(ended, Ok(Status::StreamEnd)) {
            stream.dict.set("Filter", "FlateDecode");
            stream.set_content(compressed);
        }
    }
}

/// Takes out the last page, which only told printpdf the glyphs in use; what hangs on it goes when the document is
/// pruned.
fn take_out_glyphs(document: &mut Document) -> Result<(), PaperError> {
    let tree = document.catalog()?.get(b"Pages")?.as_reference()?;
    let tree = document.get_dictionary_mut(tree)?;
    let pages = tree.get_mut(b"Kids")?.as_array_mut()?;
    pages.pop();
    let count = i64::try_from(pages.len()).unwrap_or(i64::MAX);
    tree.set("Count", count);
    Ok(())
}

/// Removes the empty dictionaries that printpdf writes, and ties each page to the structure tree.
fn tidy_pages(document: &mut Document, pages: &[ObjectId]) -> Result<(), PaperError> {
    for (number, &page) in (0..).zip(pages) {
        let dictionary = document.get_dictionary_mut(page)?;
        dictionary.remove(b"Annots");
        dictionary.set("StructParents", Object::Integer(number));
        dictionary.set("Tabs", "S");
        let resources = dictionary.get(b"Resources")?.as_reference()?;
        let resources = document.get_dictionary_mut(resources)?;
        for key in [b"XObject".as_slice(), b"ExtGState", b"Shading"] {
            resources.remove(key);
        }
    }
    Ok(())
}

/// ISO 32000-1, 14.7: the elements, and for each page which element each of its pieces belongs to.
fn structure(document: &mut Document, sheet: &Sheet, pages: &[ObjectId]) -> ObjectId {
    let root = document.new_object_id();
    let whole = document.new_object_id();
    let ids: Vec<ObjectId> = sheet.elements.iter().map(|_| document.new_object_id()).collect();
    let mut children: Vec<Vec<Object>> = vec![Vec::new(); ids.len()];
    let mut top = Vec::new();
    let mut owners: Vec<Vec<Object>> = vec![Vec::new(); pages.len()];
    for (element, &id) in sheet.elements.iter().zip(&ids) {
        match element.parent.and_then(|parent| children.get_mut(parent)) {
            Some(siblings) => siblings.push(id.into()),
            None => top.push(id.into()),
        }
        for (page, _) in &element.pieces {
            if let Some(owners) = owners.get_mut(*page) {
                owners.push(id.into());
            }
        }
    }
    for ((element, &id), children) in sheet.elements.iter().zip(&ids).zip(children) {
        let pieces = element.pieces.iter().filter_map(|(page, number)| {
            let number = Object::Integer(i64::try_from(*number).ok()?);
            let page = *pages.get(*page)?;
            Some(Object::Dictionary(dictionary! { "Type" => "MCR", "Pg" => page, "MCID" => number }))
        });
        let parent = element.parent.and_then(|parent| ids.get(parent)).copied().unwrap_or(whole);
        // Their type need not be said (ISO 32000-1, table 323), and there are a hundred and more of them.
        let mut dictionary = dictionary! {
            "S" => element.tag.name(),
            "P" => parent,
            "K" => pieces.chain(children).collect::<Vec<_>>(),
        };
        if let Some(said) = &element.said {
            dictionary.set("Alt", text_string(said));
        }
        document.set_object(id, dictionary);
    }
    let numbers = (0..).map(Object::Integer).zip(owners).flat_map(|(page, owners)| [page, owners.into()]);
    let parents = document.add_object(dictionary! { "Nums" => numbers.collect::<Vec<_>>() });
    document.set_object(
        whole,
        dictionary! { "Type" => "StructElem", "S" => "Document", "P" => root, "K" => top },
    );
    document.set_object(
        root,
        dictionary! { "Type" => "StructTreeRoot", "K" => vec![whole.into()], "ParentTree" => parents },
    );
    root
}

fn attach(document: &mut Document, attachment: &Attachment<'_>, when: DateTime<FixedOffset>) -> ObjectId {
    let size = i64::try_from(attachment.bytes.len()).unwrap_or(i64::MAX);
    let stream = Stream::new(
        dictionary! {
            "Type" => "EmbeddedFile",
            "Subtype" => attachment.kind,
            "Params" => dictionary! { "Size" => size, "ModDate" => Object::string_literal(pdf_date(when)) },
        },
        attachment.bytes.to_vec(),
    );
    let stream = document.add_object(stream);
    document.add_object(dictionary! {
        "Type" => "Filespec",
        "F" => text_string(attachment.name),
        "UF" => text_string(attachment.name),
        "Desc" => text_string(attachment.said),
        "AFRelationship" => attachment.belongs,
        "EF" => dictionary! { "F" => stream, "UF" => stream },
    })
}

fn information(about: &About<'_>) -> Dictionary {
    dictionary! {
        "Title" => text_string(about.title),
        "Subject" => text_string(about.subject),
        "Creator" => text_string(about.layout),
        "Producer" => text_string(about.program),
        "CreationDate" => Object::string_literal(pdf_date(about.when)),
        "ModDate" => Object::string_literal(pdf_date(about.when)),
    }
}

/// ISO 32000-1, 7.9.4.
fn pdf_date(when: DateTime<FixedOffset>) -> String {
    let offset = when.format("%:z").to_string().replace(':', "'");
    format!("D:{}{offset}'", when.format("%Y%m%d%H%M%S"))
}

/// Two files are the same file only if what they say is the same.
fn name_file(document: &Document, about: &About<'_>) -> Vec<u8> {
    let mut hasher = Sha256::new();
    for part in [about.title, about.subject, about.program, about.layout] {
        hasher.update(part);
        hasher.update([0]);
    }
    hasher.update(about.when.to_rfc3339());
    // The pages, the fonts and what is attached.
    for stream in document.objects.values().filter_map(|object| object.as_stream().ok()) {
        hasher.update(&stream.content);
    }
    hasher.finalize().iter().take(16).copied().collect()
}

/// XMP, saying the same as the information dictionary, as PDF/A asks.
fn metadata(about: &About<'_>) -> String {
    let escape = |text: &str| text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    let (title, subject) = (escape(about.title), escape(about.subject));
    let (layout, program) = (escape(about.layout), escape(about.program));
    let when = about.when.format("%Y-%m-%dT%H:%M:%S%:z");
    format!(
        r#"<?xpacket begin="{bom}" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
<pdfaid:part>3</pdfaid:part>
<pdfaid:conformance>B</pdfaid:conformance>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{subject}</rdf:li></rdf:Alt></dc:description>
<dc:language><rdf:Bag><rdf:li>en</rdf:li></rdf:Bag></dc:language>
<dc:format>application/pdf</dc:format>
<xmp:CreatorTool>{layout}</xmp:CreatorTool>
<pdf:Producer>{program}</pdf:Producer>
<xmp:CreateDate>{when}</xmp:CreateDate>
<xmp:ModifyDate>{when}</xmp:ModifyDate>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"#,
        bom = '\u{feff}'
    )
}
