import com.intellij.openapi.util.Disposer;
import com.intellij.psi.PsiComment;
import com.intellij.psi.PsiElement;
import com.intellij.psi.PsiErrorElement;
import com.intellij.psi.PsiRecursiveElementWalkingVisitor;
import com.intellij.psi.PsiWhiteSpace;
import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.jetbrains.kotlin.cli.FrontendConfigurationKeysKt;
import org.jetbrains.kotlin.cli.common.CLIConfigurationKeys;
import org.jetbrains.kotlin.cli.common.messages.MessageCollector;
import org.jetbrains.kotlin.cli.jvm.compiler.EnvironmentConfigFiles;
import org.jetbrains.kotlin.cli.jvm.compiler.KotlinCoreEnvironment;
import org.jetbrains.kotlin.compiler.plugin.CompilerPluginRegistrar;
import org.jetbrains.kotlin.config.CommonConfigurationKeys;
import org.jetbrains.kotlin.config.CompilerConfiguration;
import org.jetbrains.kotlin.psi.*;

/**
 * Prints the Kotlin compiler's own syntax tree of each file named on standard input.
 *
 * One line a file, "# errors path", then one line a construct: its sort (call,
 * lambda, function, class, entry), where it is recognised by, and where it ends,
 * both in UTF-16 code units. A call is recognised by the start of what is called, a
 * lambda by its brace, a declaration by its name or, without one, by its keyword.
 */
class CompilerTree {
  private static final PrintStream OUT = new PrintStream(System.out, false, StandardCharsets.UTF_8);

  public static void main(String[] none) throws Exception {
    var factory = new KtPsiFactory(environment().getProject(), false);
    var input = new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
    for (String path = input.readLine(); path != null; path = input.readLine()) {
      var text = Files.readString(Path.of(path)).replace("\r\n", "\n");
      print(path, factory.createFile("File.kt", text));
    }
    OUT.flush();
  }

  private static KotlinCoreEnvironment environment() {
    var configuration = new CompilerConfiguration();
    configuration.put(CommonConfigurationKeys.MODULE_NAME, "sources");
    configuration.put(CLIConfigurationKeys.MESSAGE_COLLECTOR_KEY, MessageCollector.Companion.getNONE());
    FrontendConfigurationKeysKt.setExtensionsStorage(configuration, new CompilerPluginRegistrar.ExtensionStorage());
    return KotlinCoreEnvironment.createForProduction(
        Disposer.newDisposable(), configuration, EnvironmentConfigFiles.JVM_CONFIG_FILES);
  }

  private static void print(String path, KtFile file) {
    var lines = new StringBuilder();
    int[] errors = {0};
    file.accept(new PsiRecursiveElementWalkingVisitor() {
      @Override
      public void visitElement(PsiElement element) {
        if (element instanceof PsiErrorElement) errors[0]++;
        describe(element, lines);
        super.visitElement(element);
      }
    });
    OUT.print("# " + errors[0] + " " + path + "\n" + lines);
  }

  private static void describe(PsiElement element, StringBuilder lines) {
    if (element instanceof KtCallExpression call) {
      boolean calls = call.getValueArgumentList() != null || !call.getLambdaArguments().isEmpty();
      if (calls) add(lines, "call", call, call.getTextRange().getStartOffset());
    } else if (element instanceof KtLambdaExpression lambda) {
      add(lines, "lambda", lambda, lambda.getTextRange().getStartOffset());
    } else if (element instanceof KtNamedFunction function) {
      var name = function.getNameIdentifier();
      int mark = (name != null ? name : function.getFunKeyword()).getTextRange().getStartOffset();
      add(lines, "function", lastPart(function), mark);
    } else if (element instanceof KtEnumEntry entry) {
      var name = entry.getNameIdentifier();
      if (name != null) add(lines, "entry", name, name.getTextRange().getStartOffset());
    } else if (element instanceof KtObjectDeclaration object) {
      var name = object.getNameIdentifier();
      var mark = name != null ? name : object.getObjectKeyword();
      // A companion is merged into its class by the program model.
      if (mark != null && !object.isCompanion()) add(lines, "class", object, mark.getTextRange().getStartOffset());
    } else if (element instanceof KtClass type && type.getNameIdentifier() != null) {
      add(lines, "class", type, type.getNameIdentifier().getTextRange().getStartOffset());
    }
  }

  /** The compiler counts a semicolon and a comment at the end of a line as part of the function before. */
  private static PsiElement lastPart(PsiElement declaration) {
    PsiElement last = declaration.getLastChild();
    while (last instanceof PsiComment || last instanceof PsiWhiteSpace || last.getText().equals(";")) last = last.getPrevSibling();
    return last;
  }

  private static void add(StringBuilder lines, String sort, PsiElement element, int mark) {
    lines.append(sort).append(' ').append(mark).append(' ').append(element.getTextRange().getEndOffset()).append('\n');
  }
}
